from datetime import timedelta

import numpy as np
import pytest

from models.drying.ranges import Floats
from models.hydration.events import minutes_of_age, windows_of
from models.hydration.temperature_history import Course, Temperatures
from models.records import Grid, Mix
from tests.builders import MONDAY, surface

# Hourly refreshes over 10 h; the first surface ages as the clock does from 0.75 h on,
# the second is placed at 2:20 and ages twice as fast.
PLACED_MIN = np.array([0, 140])
HOURS = np.arange(11.0)
AGES_H = np.stack([0.75 + HOURS, 0.75 + 2 * np.maximum(HOURS - 140 / 60, 0)], axis=1)


def minutes(first_h: float, second_h: float, ages_h: Floats = AGES_H,
            at_placing: float = 1.0) -> list[int]:  # fmt: skip
    found = minutes_of_age(
        np.array([first_h, second_h]),
        ages_h,
        60,
        600,
        PLACED_MIN,
        np.full(2, at_placing),
    )
    return [int(minute) for minute in found]


def test_age_is_reached_when_the_hours_have_passed() -> None:
    # 5.5 - 0.75 = 4.75 h = 285 min; half of that is 142.5 min after 140.
    assert minutes(5.5, 5.5) == [285, 283]


def test_age_reached_within_the_refresh_of_placing() -> None:
    # 0.75 to 1.25 h at twice the pace: 15 min after 140.
    assert minutes(1.0, 1.25) == [15, 155]


def test_age_that_the_concrete_brought_along_is_reached_at_placing() -> None:
    assert minutes(0.5, 0.75) == [0, 140]


def test_what_was_reached_before_the_grid_counts_from_its_start() -> None:
    # Placed two hours before the grid, with 2.75 h of age at its start.
    found = minutes_of_age(
        np.array([2.0]),
        2.75 + HOURS[:, None],
        60,
        600,
        np.array([-120]),
        np.array([1.0]),
    )
    assert found.tolist() == [0]


def test_a_slow_last_refresh_is_shared_out_as_it_went() -> None:
    # 0.05 h of age in the last hour: half of that is half of the hour, 570 min; beyond
    # the grid no pace is slower than a tenth.
    slow = np.append(0.75 + HOURS[:-1], 9.8)[:, None]
    found = minutes_of_age(
        np.array([9.775]), slow, 60, 600, np.array([0]), np.array([1.0])
    )
    assert found.tolist() == [570]


def test_beyond_the_grid_the_last_pace_goes_on() -> None:
    # 12.75 h is 2 h more at pace 1; 18.0833 - 16.0833 = 2 h at pace 2 is 1 h.
    assert minutes(12.75, 0.75 + 2 * (460 + 60) / 60) == [720, 660]


def test_frozen_surface_has_its_event_far_off_but_not_never() -> None:
    # One hour of age more at a tenth of the pace at 20 °C (assumption): 10 h.
    stopped = np.minimum(AGES_H, 3.75)
    assert minutes(4.75, 3.0, stopped)[0] == 600 + 600


def test_surface_placed_after_the_grid_counts_from_its_placing() -> None:
    found = minutes_of_age(
        np.array([5.75]),
        np.full((11, 1), 0.75),
        60,
        600,
        np.array([700]),
        np.array([2.0]),
    )
    # 5 h at twice the pace.
    assert found.tolist() == [700 + 150]


@pytest.mark.parametrize("target_h", [1.0, 3.3, 9.9])
def test_later_targets_never_come_sooner(target_h: float) -> None:
    before, after = minutes(target_h, target_h), minutes(target_h + 0.5, target_h + 0.5)
    assert all(b < a for b, a in zip(before, after, strict=True))


def test_short_last_refresh_keeps_its_pace() -> None:
    # 90 min of grid: the second refresh lasts half an hour.
    found = minutes_of_age(
        np.array([3.25]), np.array([[0.75], [1.75], [2.25]]), 60, 90, np.array([0]),
        np.array([1.0]),
    )  # fmt: skip
    assert found.tolist() == [150]


def test_events_of_a_surface_placed_within_a_refresh_count_from_its_placing() -> None:
    # Placed at 5:30 with 0.75 h of age, an hour of age by the hour from then on. At a
    # final set of 1 h people come at an age of 1 h, 15 min after; at the earliest at
    # 0.85, at the latest at 1.2 h: 6 and 27 min after.
    grid = Grid(MONDAY, 10, 72)
    mix = Mix(
        id="C30", strength_mpa=30, cement_kg_m3=340, initial_set_h=0.8, final_set_h=1.0
    )
    never = np.array([72])
    course = Course(
        placed_step=np.array([33]), bare_step=np.array([33]), covered_step=never,
        cover_at_h=np.array([np.inf]), setting_energy_j_mol=np.array([40_000.0]),
        heat_energy_j_mol=np.array([40_000.0]), age_when_placed_h=np.array([0.75]),
        placing_temperature_c=np.array([20.0]),
        ground_temperature_c=10.0, stages=(), measured={},
    )  # fmt: skip
    unknown = np.full((72, 1), np.nan)
    ages_h = 0.75 + np.maximum(np.arange(13) - 5.5, 0)[:, None]
    history = Temperatures(unknown, unknown, unknown, unknown, ages_h, refresh_steps=6)
    (found,) = windows_of([surface()], [mix], course, history, grid)
    people = found["bears_people"]
    assert [
        (at - MONDAY) / timedelta(minutes=1)
        for at in (people.earliest_at, people.expected_at, people.latest_at)
    ] == [336, 345, 357]
