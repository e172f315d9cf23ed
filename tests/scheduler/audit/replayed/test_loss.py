"""The audit's losses on the real formula and weather, against the drying clock's.

The two are written apart and meet only in the formulas.
"""

import numpy as np
import pytest

import scheduler.audit.replayed.loss as loss_module
from models.drying import clock as drying_clock
from models.drying.cover import cover_loss_kg_m2_h
from models.drying.covers import cover_properties
from models.drying.surroundings import Surroundings, surroundings
from models.records import (
    CoverKind,
    CoverStage,
    Floats,
    Grid,
    HydrationHistory,
    Surface,
)
from scheduler.methods.case.grid_times import in_first_cover_l_m2_h
from tests.builders import MONDAY, pour, site_input, surface, weather
from tests.scheduler.audit.audit_builders import hydration


@pytest.fixture
def real_formula(monkeypatch: pytest.MonkeyPatch, tenth_of_a_litre: None) -> None:
    del tenth_of_a_litre  # set before, undone here
    monkeypatch.setattr(loss_module, "cover_loss_kg_m2_h", cover_loss_kg_m2_h)


GRID = Grid(starts_at=MONDAY, step_min=10, steps=7 * 144)


def two_surfaces() -> tuple[Surface, Surface]:
    """Two in the open, one under burlap, one under a sheet that keeps rain off."""
    sheet = surface().cover.model_copy(
        update={
            "film_kg_m2_h_kpa": 0.00175,
            "seam_loss_l_m_d": 0.12,
            "takes_rain": False,
            "held_l_m2": 0.3,
        }
    )
    return surface(), surface(pour("P2")).model_copy(update={"cover": sheet})


def inputs() -> tuple[tuple[Surface, ...], Surroundings, HydrationHistory]:
    tops = two_surfaces()
    wet = weather().model_copy(
        update={
            "hours": tuple(
                hour.model_copy(update={"rain_mm": 3.0 if index % 30 == 0 else 0.0})
                for index, hour in enumerate(weather().hours)
            )
        }
    )
    given = site_input().model_copy(update={"weather": wet})
    around = surroundings(tops, given, GRID)
    concrete = hydration(GRID, tops)
    face = concrete.surface_temperature_c.copy()
    face[:6] = np.nan  # not placed in the first hour
    face += np.linspace(0, 15, GRID.steps)[:, None]
    history = HydrationHistory(**(vars(concrete) | {"surface_temperature_c": face}))
    return tops, around, history


def audit_loss() -> Floats:
    return loss_module.cover_loss_l_m2_h(*inputs())


@pytest.mark.usefixtures("real_formula")
def test_audit_and_drying_clock_find_the_same_losses() -> None:
    tops, around, history = inputs()
    given = site_input()
    clocked = drying_clock.run(tops, given, around, history).cover_loss_l_m2_h
    assert np.array_equal(audit_loss(), clocked)
    assert not clocked[:6].any()  # no concrete yet


@pytest.mark.usefixtures("real_formula")
def test_the_work_list_and_the_audit_scale_later_covers_alike() -> None:
    (first, _), around, history = inputs()
    planned: tuple[tuple[CoverKind, int], ...] = (
        ("pond", 200), ("insulated_blankets", 500), ("sheet_over_burlap", 800),
    )  # fmt: skip
    later = tuple(
        CoverStage(
            method="ponding",
            cover=cover_properties(kind),
            starts_at=GRID.at(step),
            reason="for the test",
        )
        for kind, step in planned
    )
    tops = (first.model_copy(update={"later": later}), two_surfaces()[1])
    clocked = drying_clock.run(tops, site_input(), around, history)
    scaled = in_first_cover_l_m2_h(
        clocked.cover_loss_l_m2_h[:, 0], clocked.held_steps_l_m2[:, 0], 0.8
    )
    audited = loss_module.cover_loss_l_m2_h(tops, around, history)[:, 0]
    assert np.array_equal(scaled[6:], audited[6:])
    # In the pond a litre is a thirtieth of the share that it was in burlap.
    true = clocked.cover_loss_l_m2_h[200:500, 0]
    assert audited[200:500] == pytest.approx(true * 0.8 / 25, abs=1e-6)
    assert not audited[500:800].any()


@pytest.mark.usefixtures("real_formula")
def test_rain_counts_only_where_the_cover_takes_it() -> None:
    loss = audit_loss()
    assert loss[:, 0].min() < -2  # 3 mm an hour less what evaporates
    assert loss[:, 1].min() >= 0


def test_losses_come_in_millionths() -> None:
    loss = audit_loss() * 1e6
    assert np.allclose(loss, np.rint(loss), atol=1e-6)


def test_the_last_step_of_the_weather_goes_on() -> None:
    horizon = site_input().horizon
    short = Grid(starts_at=horizon.starts_at, step_min=10, steps=2)
    units = loss_module.by_minute(np.array([[0.1], [0.2]]), short, horizon)
    # 0.1 L/(m² h) in millionths is 100 000 for ten minutes, then 0.2 is 200 000.
    assert units[9, 0] == 100_000
    assert units[10, 0] == units[-1, 0] == 200_000


def test_the_first_step_of_the_weather_goes_back() -> None:
    horizon = site_input().horizon
    late = Grid(starts_at=horizon.at(30), step_min=10, steps=2)
    units = loss_module.by_minute(np.array([[0.1], [0.2]]), late, horizon)
    assert set(units[:40, 0]) == {100_000}
    assert set(units[40:, 0]) == {200_000}


def test_a_full_cover_in_whole_units() -> None:
    # 0.8 L/m² × 60 min × 1 000 000.
    assert loss_module.full_units(surface()) == 48_000_000


def left_at_start(wetted_min: int | None, *rates: float, from_min: int = 0) -> int:
    """Left at minute 0 where the weather's steps of ten minutes begin before it."""
    horizon = site_input().horizon
    on = Grid(
        starts_at=horizon.at(from_min or -10 * len(rates)), step_min=10,
        steps=len(rates),
    )  # fmt: skip
    wetted_at = None if wetted_min is None else horizon.at(wetted_min)
    covered = surface(covered_at=horizon.at(-500), wetted_at=wetted_at)
    return loss_module.reserve_at_start(covered, np.array(rates), on, horizon)


def test_a_cover_starts_with_what_it_has_lost_since_it_was_last_wetted() -> None:
    # 48 million units: 5 min at 0.3 and 10 at 0.6 L/(m² h), 300 000 and 600 000 a min.
    assert left_at_start(-15, 0.3, 0.6) == 48_000_000 - 5 * 300_000 - 10 * 600_000
    assert left_at_start(0, 0.3, 0.6) == 48_000_000
    assert left_at_start(1, 0.3, 0.6) == 0  # not wetted yet


def test_rain_fills_a_dried_cover_from_nothing_and_none_above_full() -> None:
    # Ten minutes at 6 L/(m² h) take more than is held; ten of 3.6 bring 0.6 L/m².
    assert left_at_start(-20, 6.0, -3.6) == 36_000_000
    assert left_at_start(-15, 0.1, -3.6) == 48_000_000


def test_a_cover_that_nobody_wetted_was_full_when_it_was_laid() -> None:
    # Laid 500 min before; the weather is known for 20 of them, and what it began with
    # stands for the time before: 490 min at 0.06 and 10 at 0.03.
    assert left_at_start(None, 0.06, 0.03) == (48_000_000 - 490 * 60_000 - 10 * 30_000)


def test_the_last_rate_that_is_known_goes_on_up_to_the_week() -> None:
    # Known until 200 min before: 10 min at 0.3, then 195 at 0.06.
    left = left_at_start(-205, 0.3, 0.06, from_min=-220)
    assert left == 48_000_000 - 205 * 60_000
    assert left_at_start(-215, 0.3, 0.06, from_min=-220) == (
        48_000_000 - 5 * 300_000 - 210 * 60_000
    )


def test_a_surface_without_a_cover_has_nothing_left() -> None:
    bare = surface()
    on = Grid(starts_at=MONDAY, step_min=10, steps=1)
    horizon = site_input().horizon
    assert loss_module.reserve_at_start(bare, np.array([0.1]), on, horizon) == 0


def test_a_grid_that_begins_before_the_week_is_read_from_its_place() -> None:
    horizon = site_input().horizon
    early = Grid(
        starts_at=horizon.at(-60), step_min=10, steps=12
    )  # one hour before, one after
    rates = np.arange(12.0)[:, None]
    units = loss_module.by_minute(rates, early, horizon)
    assert units[0, 0] == 6_000_000
    assert units[19, 0] == 7_000_000
