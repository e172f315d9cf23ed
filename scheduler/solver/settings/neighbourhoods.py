"""Settings of the neighbourhoods: drawn at random, or gone through in a sweep."""

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True)
class OperatorSettings:
    """One way to draw a neighbourhood at random.

    Attributes
    ----------
    shape : str
        How lanes and surfaces are chosen, in ``search/operators.py``.
    hours_h : float
        Length, before it grows.
    size : int
        Crews of ``crews``, surfaces of the others.
    guests : int
        Surfaces in need that may come in besides.
    slot_min : int
        Slots in which starts are told apart.
    first_work : float
        Work that it is taken to need until it has been used.
    """

    name: str
    shape: Literal["crews", "zone", "night", "chain"]
    hours_h: float
    size: int
    guests: int
    slot_min: int
    first_work: float


@dataclass(frozen=True)
class RandomSettings:
    """Neighbourhoods drawn at random around what costs.

    Attributes
    ----------
    operators : tuple of OperatorSettings
        From the smallest to the largest.
    overrun_min : int
        Neighbourhoods may end so long after the horizon.
    most_surfaces, least_min : int
        With more surfaces ``crews`` end sooner, but last so long at least.
    guests_until_min : int
        Guests of ``crews`` are in need up to so long after its end.
    zone_lanes, zone_jitter_min : int
        Shifts of ``zone``, besides the one drawn; walks are lengthened at random by up
        to so much, so that other neighbours come in.
    night_shifts, night_calls : int
        Shifts and call-outs of ``night``, besides the one drawn.
    chain_lanes, chain_guests_of : int
        Shifts of ``chain``; its guests are among so many of the costliest surfaces.
    """

    operators: tuple[OperatorSettings, ...] = (
        OperatorSettings("one crew, hours", "crews", 4, 1, 3, 10, 0.08),
        OperatorSettings("two crews, hours", "crews", 4, 2, 4, 10, 0.15),
        OperatorSettings("zone", "zone", 7, 4, 2, 10, 0.15),
        OperatorSettings("crew, half a day", "crews", 7, 1, 4, 15, 0.2),
        OperatorSettings("three crews", "crews", 4, 3, 5, 15, 0.25),
        OperatorSettings("night", "night", 16, 9, 0, 15, 0.25),
        OperatorSettings("day and night", "chain", 28, 1, 1, 15, 0.2),
    )
    overrun_min: int = 240
    most_surfaces: int = 36
    least_min: int = 120
    guests_until_min: int = 480
    zone_lanes: int = 8
    zone_jitter_min: int = 4
    night_shifts: int = 4
    night_calls: int = 2
    chain_lanes: int = 14
    chain_guests_of: int = 6


@dataclass(frozen=True)
class SweepSettings:
    """Neighbourhoods gone through in a fixed order.

    Attributes
    ----------
    first_scale, scale_step, widest_scale : float
        How far they are stretched the first time, more each time, and at most.
    call_out_work, work : float
        Work that one may take the first time, and so much more each time. A call-out
        is worth proving; of the rest, what is not found by then seldom comes.
    call_out_slot_min, linked_slot_min, stretch_slot_min : int
        Slots in which starts are told apart.
    dusk_min, dawn_min : int
        A call-out is taken with so much of the time before and after it.
    call_out_stops : int
        And with surfaces that have so many stops in all.
    relief_shifts : int
        And with so many shifts that may take over.
    linked_most : int
        Costly duties whose linked work is taken, dearest first.
    linked_margin_min, linked_tail_min : int
        It reaches so far before and after what costs, and so far beyond its last job.
    linked_lanes : int
        With so many shifts.
    linked_rivals : int
        And with so many surfaces that hold the covers it waits for.
    first_cut_min : int
        The first stretch of the site begins at random before this.
    shortest_min, longest_min, widen_min : int
        Length of a stretch; it is widened in steps while stops are few.
    stretch_stops, stretch_surfaces : int
        Stops and surfaces of a stretch, at most.
    exact_size : int
        So few stops and surfaces together are planned to the minute. Measured: a site
        was found where two visits had to move together by minutes, which slots of ten
        minutes and more do not see.
    """

    first_scale: float = 0.5
    scale_step: float = 0.25
    widest_scale: float = 2.0
    call_out_work: float = 0.25
    work: float = 0.1
    call_out_slot_min: int = 8
    linked_slot_min: int = 5
    stretch_slot_min: int = 20
    dusk_min: int = 480
    dawn_min: int = 240
    call_out_stops: int = 24
    relief_shifts: int = 4
    linked_most: int = 24
    linked_margin_min: int = 720
    linked_tail_min: int = 60
    linked_lanes: int = 14
    linked_rivals: int = 3
    first_cut_min: int = 360
    shortest_min: int = 360
    longest_min: int = 36 * 60
    widen_min: int = 60
    stretch_stops: int = 18
    stretch_surfaces: int = 28
    exact_size: int = 8
