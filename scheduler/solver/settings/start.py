"""Settings of the roster that the search begins with."""

from dataclasses import dataclass


@dataclass(frozen=True)
class DispatchRule:
    """How the greedy dispatcher decides.

    Attributes
    ----------
    look_ahead_min : int
        A rewet is worth a visit if the cover is dry within this time.
    walk_factor : float
        How much a minute of walking weighs against a minute of urgency.
    top_up_min : int
        How long before the end of a shift covers are topped up for the night.
    call_out_factor : float or None
        A call-out must save this many times its price; None: never called out.
    """

    look_ahead_min: int
    walk_factor: float
    top_up_min: int
    call_out_factor: float | None


@dataclass(frozen=True)
class StartSettings:
    """The roster that the search begins with.

    Attributes
    ----------
    rules : tuple of DispatchRule
        Each is tried and the cheapest roster taken: eager and patient ones, with
        call-outs and without. Measured on sixteen sites: each of these was best on
        some, two more never were.
    rules_surfaces : int
        Rules tried times surfaces of the site, at most: on large ones a rule takes long
        and the search mends more than another rule would.
    rebuilt, rebuilt_surfaces : int
        How often a roster is built again with the dearest bare surfaces first; at most
        so many rebuildings times surfaces.
    tight_play_min : int
        A duty with less play is placed ahead of all rewets.
    due_grace_min : int
        The play is counted to so long after the work is due.
    most_lanes : int
        Shifts tried for one job; the nearest are the likely ones.
    most_openings : int
        Openings of a shift tried for a duty, the earliest first.
    most_soakings : int
        Places tried for the visit that soaks what is to be laid, the latest first.
    idle_min : int
        A free crew that finds nothing looks again after this.
    soon_min : int
        A duty that opens so soon may be waited for.
    tight_left_min : int
        A duty with less time left is as urgent as a cover that is dry in
        ``tight_dry_min``; others as one that is dry ``calm_dry_min`` after the rule's
        look-ahead.
    cost_min : float
        A surface whose dry minute costs 1 more counts as dry so much sooner.
    locked_min, retry_min : int
        A surface that the rules refuse a visit is left alone for so long, and the crew
        looks again after that.
    party_wait_min : int
        A crew with nothing to do waits for its next stop if that is so near.
    longer_wet_min : int
        A top-up must keep a cover wet for so much longer.
    gap_min : int
        A shift that ends so soon after another one does not serve the time after it.
    call_out_margin_min : int
        A call-out spares dry minutes from so long after it begins until so long after
        it ends.
    """

    rules: tuple[DispatchRule, ...] = (
        DispatchRule(45, 2.0, 150, 1.3),
        DispatchRule(20, 2.0, 90, None),
        DispatchRule(90, 2.0, 180, None),
        DispatchRule(60, 5.0, 240, 1.3),
    )
    rules_surfaces: int = 360
    rebuilt: int = 8
    rebuilt_surfaces: int = 480
    tight_play_min: int = 240
    due_grace_min: int = 60
    most_lanes: int = 120
    most_openings: int = 8
    most_soakings: int = 4
    idle_min: int = 10
    soon_min: int = 5
    tight_left_min: int = 240
    tight_dry_min: float = 20.0
    calm_dry_min: float = 30.0
    cost_min: float = 15.0
    locked_min: int = 15
    retry_min: int = 2
    party_wait_min: int = 15
    longer_wet_min: int = 30
    gap_min: int = 30
    call_out_margin_min: int = 60
