"""Three small weeks cost no more than they did: a search that has become worse is seen.

The work is deterministic, so a cost changes only with the code (or with OR-Tools, which
is pinned). By seeds 1 to 5 the same search came to within 1.6 %, 0.6 % and 0.8 % of its
best, so a change that only draws otherwise may cost up to so much more; without moves
of single visits, or with starts told apart by the hour, each of them costs 0.9 to 5.2 %
more, and the last test holds that for the one that shows it best. Where a better search
lowers a cost, measure it again and lower the figure.
"""

from dataclasses import replace

import pytest

from models.records import WorkList
from scheduler.solver.search.effort import Effort
from scheduler.solver.settings.settings import DEFAULT, Settings
from scheduler.solver.solve import solve
from tests.bench.instances import Size, instance

EFFORT = Effort(work=1.0)
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
    return solve(work, EFFORT, alone=True, settings=settings).cost


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
