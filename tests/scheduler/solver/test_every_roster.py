"""On sites so small that every roster can be tried the solver finds the best one.

Two surfaces, one gang of two shifts or a shift and a call-out, a minute's grid of five;
each site plants what the optimum has to weigh.
"""

import pytest

from models.records import (
    BusyStretch,
    Link,
    Published,
    PublishedVisit,
    Stretch,
    SurfaceWork,
    TakenFlow,
    Task,
    WeightStep,
    WorkList,
)
from scheduler.solver.search.effort import Effort
from scheduler.solver.solve import solve
from tests.bench.simulator import simulate
from tests.builders import work_for_nothing
from tests.scheduler.solver.every_roster import cheapest, rosters
from tests.scheduler.solver.small_weeks import DAY, MINUTES
from tests.scheduler.solver.solver_builders import (
    WET_FOR_MIN,
    duty,
    rewet,
    shift,
    surface,
    tap,
    work_list,
)


def damp_for(minutes: int) -> float:
    """Reserve of a cover that is wet for so long yet."""
    return minutes / WET_FOR_MIN


def covered(name: str, wet_min: int, per_min: float = 1, **more: object) -> SurfaceWork:
    weights = (WeightStep(from_min=0, per_min=per_min),)
    return surface(
        name, reserve_at_start_l_m2=damp_for(wet_min), weights=weights, **more
    )


def bare(
    name: str, from_min: int, also: tuple[Task, ...] = (), **more: object
) -> SurfaceWork:
    """To be covered in half an hour, which soaks it; 3 a minute until then."""
    lay = duty(
        f"{name}/lay", kind="lay_cover", effect="wet", covers=True, duration_min=30,
        earliest_min=from_min - 10,
    )  # fmt: skip
    return surface(
        name, covered_from_min=None, tasks=(lay, *also),
        fresh=(Stretch(from_min=from_min, until_min=MINUTES),), **more,
    )  # fmt: skip


def site(*surfaces: SurfaceWork, **fields: object) -> WorkList:
    base: dict[str, object] = {
        "zone_ids": ("A", "B"), "travel_min": ((5, 15), (15, 5)),
        "water_points": {"A": ("tap",), "B": ("tap",)},
        "shifts": (shift(ends_min=75),),
        "costs": work_for_nothing(travel_cost_per_min=0.2, overtime_cost_per_min=2),
    }  # fmt: skip
    return work_list(*surfaces, minutes=MINUTES, **(base | fields))


LOOK = duty("S/look", duration_min=10, due_min=40, missed_cost=70, late_cost_per_min=1)
UNDER = LOOK.model_copy(update={"after": (Link(task_id="S/lay"),)})
#: Due at 40 and as long as a look; whoever does it fills the cover.
CAN = LOOK.model_copy(update={"effect": "wet"})
NIGHT = shift(
    id="red/call", kind="on_call", starts_min=130, ends_min=190, call_out_cost=60
)
SITES = {
    "rewets of different weight": site(covered("S", 0), covered("T", 10, 4)),
    "a second rewet of the dearer one": site(
        covered("S", 20), covered("T", 0, 6), shifts=(shift(ends_min=120),),
        supplies=(tap(daily_allotment_l=600, days=(DAY,)),),
    ),
    "a cover before a rewet": site(bare("S", 20), covered("T", 30)),
    "a look that waits for the cover": site(
        bare("S", 20, also=(UNDER,)), covered("T", 10, 2), shifts=(shift(ends_min=85),)
    ),
    "no time to look before the cover is on": site(
        bare("S", 20, also=(UNDER.model_copy(update={"latest_min": 50}),)),
        covered("T", 10, 2),
    ),
    "a small face that is wetted by its look": site(
        covered("S", 0, 2, rewet=None, tasks=(CAN,)), covered("T", 10, 3),
        shifts=(shift(ends_min=60),),
    ),
    "a walk between zones": site(
        covered("S", 40, 2), covered("T", 30, zone_id="B", tasks=(
            LOOK.model_copy(update={"id": "T/look", "surface_id": "T"}),
        )),
    ),
    "a duty or dryness": site(covered("S", 0, 2, tasks=(LOOK,)), covered("T", 0, 3)),
    "a look that a wetting meets": site(
        covered("S", 0, 2, tasks=(LOOK.model_copy(update={"met_by_wetting": True}),)),
        covered("T", 0, 3),
    ),
    "hands and water that cost": site(
        covered("S", 20, 2, tasks=(LOOK,)), covered("T", 0),
        costs=work_for_nothing(
            travel_cost_per_min=0, worker_minute_cost=0.9, litre_cost=0.05
        ),
    ),
    "flow taken by others": site(
        covered("S", 0), covered("T", 0, 2), shifts=(shift(ends_min=70),),
        supplies=(tap(taken=(TakenFlow(from_min=20, until_min=45, flow_l_min=990),)),),
    ),
    "an allotment of one draw": site(
        covered("S", 0, 2), covered("T", 50, 3),
        supplies=(tap(daily_allotment_l=300, days=(DAY,)),),
    ),
    "a tank that fills": site(
        covered("S", 0, 2), covered("T", 0, 3),
        supplies=(tap(capacity_l=250, level_at_start_l=100, refill_l_min=5),),
    ),
    "a call-out that pays": site(
        covered("S", 60, 2), covered("T", 90, 2), shifts=(shift(ends_min=40), NIGHT)
    ),
    "a call-out that rest forbids": site(
        covered("S", 0, 2), covered("T", 90, 2), rest_min=110,
        shifts=(shift(ends_min=40), NIGHT),
    ),
    "other work, then a break": site(
        covered("S", 10, 3), covered("T", 20, 4),
        shifts=(shift(
            ends_min=60, breaks=(Stretch(from_min=30, until_min=40),),
            busy=(BusyStretch(from_min=0, until_min=20, doing="placing P9"),),
        ),),
    ),
    "overtime and a break": site(
        covered("S", 10, 3), covered("T", 20, 4),
        shifts=(shift(
            ends_min=60, overtime_max_min=20,
            breaks=(Stretch(from_min=20, until_min=35),),
        ),),
    ),
}  # fmt: skip


#: Two visits that move together are found late.
USUAL_WORK = 0.05
WORK = dict.fromkeys(
    (
        "a cover before a rewet",
        "a look that waits for the cover",
        "a walk between zones",
        "hands and water that cost",
    ),
    0.25,
)


@pytest.mark.parametrize("name", SITES)
def test_the_roster_is_the_best_there_is(name: str) -> None:
    work = SITES[name]
    roster = solve(work, Effort(work=WORK.get(name, USUAL_WORK)))
    best = cheapest(work)
    assert simulate(work, roster).violations == []
    assert roster.cost == pytest.approx(best)


#: Whom people were told to expect: early, late, by nobody's plan, by another gang.
TOLD = {
    "rewets of different weight": (("S/rewet", "red", 30), ("T/rewet", "red", 5)),
    "a duty or dryness": (("S/look", "red", 55), ("T/rewet", "red", 5)),
    "a call-out that pays": (("T/rewet", "red", 10), ("S/rewet", "blue", 140)),
    "overtime and a break": (("S/rewet", "red", 50), ("S/rewet", "blue", 5)),
}


@pytest.mark.parametrize("price", [1, 8, 30])
@pytest.mark.parametrize("name", TOLD)
def test_near_a_published_roster_it_is_the_best_at_the_price_of_changes(
    name: str, price: int
) -> None:
    visits = tuple(
        PublishedVisit(task_id=task, crew_id=crew, shift_id="", start_min=start)
        for task, crew, start in TOLD[name]
    )
    told = Published(from_min=0, until_min=MINUTES, visits=visits, cost=0)
    site = SITES[name]
    prices = site.costs.model_copy(
        update={"change_cost": price, "change_beyond_min": 10}
    )
    work = site.model_copy(update={"published": told, "costs": prices})
    roster = solve(work, Effort(work=USUAL_WORK))
    assert roster.cost == pytest.approx(cheapest(work))


def test_every_roster_is_tried() -> None:
    # One surface, rewets of 20 minutes after a walk of 5 in a shift of 50: none at all,
    # starts at 5, 10, ... 30, and pairs (a, b) with b from a + 20: 5 and 25 or 30, 10
    # and 30.
    work = site(covered("S", 0), shifts=(shift(ends_min=50),))
    assert len(list(rosters(work))) == 1 + 6 + 3


def test_rewets_may_be_left_to_a_gang_with_the_skill() -> None:
    skilled = rewet("S", skills=("sprayer",))
    work = site(covered("S", 0, rewet=skilled), covered("T", 0))
    assert solve(work, Effort(work=0.05)).cost == pytest.approx(cheapest_without(work))


def cheapest_without(work: WorkList) -> float:
    """Least cost if nobody ever wets S."""
    only = work.surfaces[0].model_copy(update={"rewet": None})
    return cheapest(work.model_copy(update={"surfaces": (only, work.surfaces[1])}))
