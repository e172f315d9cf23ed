"""Little water left: dry time of a cover that holds what lies above the share."""

from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.local_clock import WeekClock
from models.records import Flags, Horizon, Site, Surface
from scheduler.audit.replayed.jobs import jobs_of
from scheduler.audit.replayed.low_water import low_water, low_water_cost
from scheduler.audit.replayed.simulation import Simulation, simulate
from tests.builders import MONDAY, burlap, site, surface
from tests.scheduler.audit.audit_builders import grid, lay, rewet, roster, visit, work

MINUTES = 600
HORIZON = Horizon.model_validate(
    {"starts_at": MONDAY, "ends_at": MONDAY.replace(hour=MONDAY.hour + 10)}
)


def week(starts: Sequence[int], rates_pct: Sequence[int], on: Surface) -> Simulation:
    """Laid by minute 60, re-wetted at times; hundredths of L/(m² h) lost."""
    visits = [visit("lay", 0, 60)]
    visits += [visit("rewet", start, 20, id=f"r{start}") for start in set(starts)]
    of = work(tasks=(lay(),), rewet=rewet(), fresh=(), ends_min=MINUTES)
    plan = roster(visits, [of], HORIZON)
    jobs, _ = jobs_of(plan, WeekClock("Europe/Berlin", HORIZON))
    loss = np.array(rates_pct, np.float64)[:, None] / 100
    return simulate([on], plan.surfaces, jobs, loss, grid(HORIZON), HORIZON)


def priced(share: float, factor: float = 0.5) -> Site:
    here = site()
    rules = here.rules.model_copy(update={"rewet_at_reserve_fraction": share})
    costs = here.costs.model_copy(update={"low_water_factor": factor})
    return here.model_copy(update={"rules": rules, "costs": costs})


def by_a_smaller_cover(
    starts: Sequence[int], rates_pct: Sequence[int], held_l_m2: float
) -> Flags:
    cover = burlap().model_copy(update={"held_l_m2": held_l_m2})
    return week(starts, rates_pct, surface(cover=cover)).dry


@settings(deadline=None, max_examples=40)
@given(
    st.lists(st.integers(60, MINUTES - 20), max_size=4),
    st.lists(st.integers(-60, 120), min_size=60, max_size=60),
    st.sampled_from((0.25, 0.5, 0.8)),
)
def test_it_is_low_when_a_smaller_cover_would_be_dry(
    starts: list[int], rates_pct: list[int], share: float
) -> None:
    low = low_water(week(starts, rates_pct, surface()), priced(share))
    assert (low == by_a_smaller_cover(starts, rates_pct, 0.8 * (1 - share))).all()


def test_by_hand() -> None:
    """0.01 L/m² a minute: of 0.8 a quarter is left after 60 min, nothing after 80."""
    simulation = week([200], [60] * 60, surface())
    here = priced(0.25, factor=0.5)
    flags = low_water(simulation, here)
    low = np.flatnonzero(flags[:, 0])
    # On from 60: low from 120 until half of the re-wetting is done at 210; full at 220.
    assert low.tolist() == [*range(120, 210), *range(280, MINUTES)]
    # A dry minute of the fixture costs 1 under the cover.
    cost = low_water_cost(flags, simulation, here)
    weight = simulation.works[0].weights[0].per_min
    assert cost == pytest.approx(0.5 * weight * len(low))


@pytest.mark.parametrize(("share", "factor"), [(0, 0.5), (0.5, 0)])
def test_without_a_share_or_a_price_nothing_is_low(share: float, factor: float) -> None:
    simulation = week([], [60] * 60, surface())
    here = priced(share, factor)
    low = low_water(simulation, here)
    assert not low.any()
    assert low_water_cost(low, simulation, here) == 0
