"""What a zone's water points can give, and from when."""

import numpy as np
import pytest

from models.records import Stretch, TakenFlow, TankDelivery, WaterNeed
from scheduler.estimates.draws import Draws
from tests.scheduler.estimates.advise_builders import LENGTH, supply

NEED = WaterNeed(litres_l=300, from_min=5, until_min=15)  # 30 L/min


def first_start(draws: Draws, need: WaterNeed = NEED) -> int:
    given = draws.gives(need, 0, LENGTH - need.until_min)
    return int(np.flatnonzero(given)[0]) if given.any() else -1


def test_flow_that_others_take_is_waited_out() -> None:
    # 40 less 15 leaves 25 L/min until minute 100; the draw begins 5 min after a start.
    taken = TakenFlow(from_min=0, until_min=100, flow_l_min=15)
    assert first_start(Draws([supply(taken=(taken,))], LENGTH)) == 95


def test_two_draws_share_the_flow() -> None:
    draws = Draws([supply()], LENGTH)
    assert draws.draw(NEED, 50) == "tap"
    # Drawn from 55 to 65: others begin to draw at 65 or have ended by 55.
    given = draws.gives(NEED, 30, 70)
    assert np.flatnonzero(~given).tolist() == [k - 30 for k in range(41, 60)]


def test_a_day_gives_no_more_than_its_allotment() -> None:
    days = (Stretch(from_min=0, until_min=1080), Stretch(from_min=1080, until_min=2520))
    draws = Draws([supply(daily_allotment_l=500, days=days)], LENGTH)
    assert first_start(draws) == 0
    draws.draw(NEED, 0)
    assert first_start(draws) == 1075  # 200 L are left of the first day


def test_a_tank_is_waited_for_until_it_holds_enough() -> None:
    # 100 L and 2 L/min: 300 L after the hundredth minute has flowed in.
    tank = supply(capacity_l=1000, level_at_start_l=100, refill_l_min=2)
    assert first_start(Draws([tank], LENGTH)) == 99 - 5


def test_a_full_tank_runs_over_and_is_no_fuller_for_it() -> None:
    tank = supply(capacity_l=400, level_at_start_l=400, refill_l_min=1)
    draws = Draws([tank], LENGTH)
    draws.draw(NEED, 1000)  # leaves 110 L at minute 1014 with what flowed in
    given = draws.gives(NEED, 1015, 1400)
    # 1 L/min brings it from 110 to 300 in 190 min.
    assert 1015 + int(np.flatnonzero(given)[0]) == pytest.approx(1014 + 190 - 5, abs=1)


def test_others_empty_a_tank_but_never_below_nothing() -> None:
    tank = supply(
        capacity_l=1000, level_at_start_l=500,
        taken=(TakenFlow(from_min=0, until_min=200, flow_l_min=10),),
        deliveries=(TankDelivery(at_min=300, litres_l=400),),
    )  # fmt: skip
    assert first_start(Draws([tank], LENGTH)) == 295


def test_the_nearest_point_that_can_gives() -> None:
    dry = supply(id="tank", capacity_l=100, level_at_start_l=100)
    draws = Draws([dry, supply()], LENGTH)
    assert draws.draw(NEED, 10) == "tap"


def test_a_draw_nobody_gives_is_refused() -> None:
    with pytest.raises(ValueError, match="no water for a draw of 300 L at 10 min"):
        Draws([supply(flow_l_min=20)], LENGTH).draw(NEED, 10)
