"""Settings of moves of single visits, and of what is taken to cost much."""

from dataclasses import dataclass


@dataclass(frozen=True)
class CostDriverSettings:
    """Where a roster costs, and when something could have been done about it.

    Attributes
    ----------
    before_min : int
        A dry or late surface could have been served so long before.
    late_after_min : int
        And late work so long after it was begun.
    missed_after_min : int
        Work left out could be done so long after it is due.
    costly_share : float
        A duty is costly from this share of what a surface costs on average; weighed
        against the site's average, large sites have costly duties too.
    """

    before_min: int = 240
    late_after_min: int = 60
    missed_after_min: int = 480
    costly_share: float = 0.3


@dataclass(frozen=True)
class LocalSearchSettings:
    """Moves of single visits.

    Attributes
    ----------
    rounds : int
        Of all moves before and after the search; it ends sooner if nothing is gained.
    shift_rounds : int
        Of moves by minutes in each.
    ejection_shifts, ejection_places : int
        Shifts tried for a costly duty and places in each, the soonest first.
    fetch_places : int
        Places tried for each visit that lifts covers for what waits bare, the soonest
        first.
    full_share : float
        A cover with so much of its water left is nearly full.
    full_rewet_cost : float
        Wetting it, where that saves no dry minute, may save so much besides: less than
        a walk across the site and back for a look.
    round_pause_min : int
        A longer pause between two visits of a zone begins another round; as for what
        phones show.
    round_passes : int
        Through all visits to draw rounds together. Measured with it: 6.7 to 5.9 rounds
        a shift on larkmere, 6.1 to 4.6 on willowmere, 9.6 to 6.0 on 60 surfaces.
    round_lanes : int
        Shifts looked into for one visit: its own, then the nearest.
    """

    rounds: int = 3
    shift_rounds: int = 3
    ejection_shifts: int = 6
    ejection_places: int = 5
    fetch_places: int = 8
    full_share: float = 0.8
    full_rewet_cost: float = 10.0
    round_pause_min: int = 10
    round_passes: int = 2
    round_lanes: int = 24
