"""Neighbourhoods in which water binds, against every roster that could be tried.

Planned to the minute and solved to its end, the model must find what the plain count
of ``every_roster`` calls the cheapest, and what would be cheaper without the limit must
cost more with it.
"""

from itertools import product

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from models.records import (
    CrewShift,
    Stretch,
    SurfaceWork,
    TakenFlow,
    WaterSupply,
    WeightStep,
    WorkList,
)
from tests.builders import work_for_nothing
from tests.scheduler.solver.every_roster import cheapest
from tests.scheduler.solver.optimum import best_plan
from tests.scheduler.solver.small_weeks import DAY, MINUTES
from tests.scheduler.solver.solver_builders import (
    WET_FOR_MIN,
    shift,
    surface,
    tap,
    work_list,
)

WALK, WORK, HOSE_FROM, HOSE_UNTIL, FLOW_L_MIN = 5, 20, 10, 20, 20


def covered(name: str, wet_min: int, per_min: float) -> SurfaceWork:
    """Wet for so long yet; a rewet of 20 minutes draws 20 L/min in the last ten."""
    return surface(
        name,
        reserve_at_start_l_m2=wet_min / WET_FOR_MIN,
        weights=(WeightStep(from_min=0, per_min=per_min),),
    )


def site(
    *surfaces: SurfaceWork,
    supply: WaterSupply,
    minutes: int = MINUTES,
    shifts: tuple[CrewShift, ...] = (shift(ends_min=60),),
) -> WorkList:
    return work_list(
        *surfaces, supplies=(supply,), minutes=minutes, shifts=shifts,
        travel_min=((WALK,),),
        costs=work_for_nothing(travel_cost_per_min=0),
    )  # fmt: skip


PAIR = (covered("S", 0, 2), covered("T", 20, 3))
LIMITS = {
    "an allotment of one draw": tap(daily_allotment_l=399, days=(DAY,)),
    "a tank with one draw": tap(capacity_l=1000, level_at_start_l=399),
    "a tap that others use at first": tap(
        taken=(TakenFlow(from_min=0, until_min=30, flow_l_min=981),)
    ),
    "a tap that others use in between": tap(
        taken=(TakenFlow(from_min=20, until_min=40, flow_l_min=981),)
    ),
}


@pytest.mark.parametrize("limit", LIMITS)
def test_where_water_binds_the_best_roster_is_found(limit: str) -> None:
    short, plenty = site(*PAIR, supply=LIMITS[limit]), site(*PAIR, supply=tap())
    found = best_plan(short, rewets=2)
    assert found.cost == pytest.approx(cheapest(short))
    assert found.cost > cheapest(plenty)  # or it would not bind


def every_pair(weights: tuple[int, int], flow: int, horizon: int) -> int:
    """Least cost if each of two gangs wets one surface, minute by minute."""

    def cost(pair: tuple[int, int]) -> int:
        return sum(
            weight * (start + WORK // 2 + max(0, horizon - start - WORK - WET_FOR_MIN))
            for weight, start in zip(weights, pair, strict=True)
        )

    def flows(pair: tuple[int, int]) -> bool:
        drawn = [
            sum(start + HOSE_FROM <= m < start + HOSE_UNTIL for start in pair)
            for m in range(horizon)
        ]
        return max(drawn) * FLOW_L_MIN <= flow

    range_ = range(WALK, 45 - WORK + 1)
    return min(cost(pair) for pair in product(range_, range_) if flows(pair))


@pytest.mark.parametrize("weights", [(1, 4), (3, 2), (1, 1)])
@pytest.mark.parametrize("flow", [2 * FLOW_L_MIN, 2 * FLOW_L_MIN - 1])
def test_gangs_at_one_tap_wait_no_longer_than_its_flow_asks(
    weights: tuple[int, int], flow: int
) -> None:
    # To minute 140 only the dry minutes to the middle of each visit count.
    gangs = (shift("red", ends_min=45), shift("blue", ends_min=45))
    both = (covered("S", 0, weights[0]), covered("T", 0, weights[1]))
    supply = tap(flow_l_min=flow)
    work = site(*both, supply=supply, shifts=gangs, minutes=140)
    assert best_plan(work, rewets=2).cost == every_pair(weights, flow, 140)


def test_a_gang_that_finds_no_flow_draws_at_the_next_tap() -> None:
    gangs = (shift("red", ends_min=45), shift("blue", ends_min=45))
    near = tap(id="near", flow_l_min=2 * FLOW_L_MIN - 1)
    work = site(
        covered("S", 0, 1), covered("T", 0, 4), supply=near, shifts=gangs, minutes=140
    )
    more = {
        "supplies": (near, tap(id="far", flow_l_min=FLOW_L_MIN)),
        "water_points": {"A": ("near", "far")},
    }
    plan = best_plan(work.model_copy(update=more), rewets=2)
    assert plan.cost == (1 + 4) * (WALK + WORK // 2)
    assert {stop.point for stop in plan.stops()} == {0, 1}


fives = st.integers(0, 12).map(lambda n: 5 * n)


@st.composite
def short_of_water(draw: st.DrawFn) -> WorkList:
    """Two surfaces, a gang for an hour, and a supply that is short in some way."""
    first = draw(fives)
    taken = TakenFlow(from_min=first, until_min=first + 20, flow_l_min=990)
    supply = draw(
        st.sampled_from(
            (
                tap(taken=(taken,)),
                tap(daily_allotment_l=draw(st.sampled_from((200, 450))), days=(DAY,)),
                tap(
                    capacity_l=1000, level_at_start_l=draw(st.sampled_from((100, 350))),
                    taken=(TakenFlow(from_min=first, until_min=first + 10,
                                     flow_l_min=10),),
                ),
            )
        )
    )  # fmt: skip
    pause = (Stretch(from_min=first, until_min=first + 10),)
    gang = shift(ends_min=60, breaks=draw(st.sampled_from(((), pause))))
    surfaces = (
        covered(name, draw(fives), draw(st.integers(1, 4))) for name in ("S", "T")
    )
    return site(*surfaces, supply=supply, shifts=(gang,))


@settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(short_of_water())
def test_no_roster_of_a_site_short_of_water_is_better(work: WorkList) -> None:
    assert best_plan(work, rewets=2).cost == pytest.approx(cheapest(work))
