"""Three small weeks cost no more than they did: a search that has become worse is seen.

The work is deterministic, so a cost changes only with the code (or with OR-Tools, which
is pinned). One seed says little: by eight of them the same search came to up to 6 %,
1.5 % and 0.7 % above its best. So the mean of three is held against the figures, which
are older and of seed 1; without moves of single visits, or with starts told apart by
the hour, it is more, and the last test holds that for the week that shows it best.
Where a better search lowers a mean below its figure, lower the figure.
"""

from dataclasses import replace
from statistics import fmean

import pytest

from models.records import WorkList
from scheduler.solver.search.effort import Effort
from scheduler.solver.settings.settings import DEFAULT, Settings
from scheduler.solver.solve import solve
from tests.bench.instances import Size, instance

EFFORT = Effort(work=1.0)
SEEDS = (1, 2, 3)
MARGIN = 1.01
#: Size, its seed and the cost at seed 1 of the search with OR-Tools 9.15. Best seen in
#: any run, with up to four times the work: 7308.6, 11254.2 and 9891.2. All
#: were measured anew when the minutes before the middle of a wetting came to count as
#: dry: the same visits cost more.
WEEKS = {
    "tight": (Size(6, days=3, tightness=0.9), 3, 7308.6),
    "tight and wet": (Size(8, days=3, tightness=1.0, rain=True), 4, 11287.6),
    "with slack": (Size(5, days=4, tightness=0.7), 10, 9893.0),
}


def cost(work: WorkList, settings: Settings = DEFAULT) -> float:
    rosters = (
        solve(work, EFFORT, seed, alone=True, settings=settings) for seed in SEEDS
    )
    return fmean(roster.cost for roster in rosters)


@pytest.mark.parametrize("week", WEEKS)
def test_a_week_costs_no_more_than_it_did(week: str) -> None:
    size, seed, measured = WEEKS[week]
    assert cost(instance(size, seed)) <= MARGIN * measured


def without_single_visits() -> Settings:
    """Visits are moved by neighbourhoods only."""
    none = replace(DEFAULT.local_search, rounds=0, shift_rounds=0)
    return replace(DEFAULT, local_search=none)


def by_the_hour() -> Settings:
    """Neighbourhoods tell starts apart by hours."""
    operators = tuple(replace(one, slot_min=60) for one in DEFAULT.random.operators)
    sweep = replace(
        DEFAULT.sweep, call_out_slot_min=60, linked_slot_min=60, stretch_slot_min=60
    )
    random = replace(DEFAULT.random, operators=operators)
    return replace(DEFAULT, random=random, sweep=sweep)


@pytest.mark.parametrize("worse", [without_single_visits(), by_the_hour()])
def test_a_worse_search_would_be_seen(worse: Settings) -> None:
    size, seed, measured = WEEKS["tight"]
    assert cost(instance(size, seed), worse) > MARGIN * measured
