"""Settings of the search over neighbourhoods."""

from dataclasses import dataclass


@dataclass(frozen=True)
class SearchSettings:
    """Which neighbourhood comes next, and when the search changes its ways.

    Attributes
    ----------
    at_a_time : int
        Two are solved, two lie ready: a short one need not wait for a long one.
    patience : int
        Drawn neighbourhoods in a row that gained nothing end the search.
    grows_after, growth : int, float
        They grow by a share after so many of these.
    draws : int
        Tries to draw one that is new and keeps off busy shifts.
    remembered : int
        Neighbourhoods that are known to hold nothing better.
    cost_power : float
        A cost driver is drawn by its cost to this power: dear ones more often, though
        not in proportion.
    score_memory : float
        Share of an operator's score that is kept from one use to the next.
    random_work, random_share : float
        Work that a drawn neighbourhood may take, and its share of the budget at most:
        few are not proven by then, and those seldom gain.
    sweep_share : float
        The same of one of a sweep.
    local_search_share, local_search_work_per_surface : float
        Work after which single visits are moved again: a share of the budget, and no
        less than so much a surface.
    check_after, check_after_per_surface : int, float
        After so many drawn neighbourhoods, or so many a surface, their gain is weighed.
    little_gain : float
        Share of the cost; if they gained less, a sweep begins.
    sweep_gain : float
        Share of the cost; if a sweep gained more, another one follows.
    """

    at_a_time: int = 4
    patience: int = 150
    grows_after: int = 30
    growth: float = 0.25
    draws: int = 20
    remembered: int = 200
    cost_power: float = 0.7
    score_memory: float = 0.9
    random_work: float = 0.08
    random_share: float = 0.05
    sweep_share: float = 0.25
    local_search_share: float = 0.05
    local_search_work_per_surface: float = 0.01
    check_after: int = 20
    check_after_per_surface: float = 0.12
    little_gain: float = 0.02
    sweep_gain: float = 0.002
