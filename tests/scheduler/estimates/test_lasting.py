"""How long a filling lasts, by day and by night."""

from models.records import DryingCurve
from scheduler.estimates.lasting import Lasting, lasting, visits_per_shift
from tests.scheduler.estimates.advise_builders import (
    LENGTH,
    NIGHTS,
    curve,
    surface_work,
    task,
)


def test_sun_shortens_what_is_filled_by_day() -> None:
    # 0.2 L/(m² h) from 06:00 to 20:00, 0.05 at night; 0.8 L/m². By day at worst 4 h.
    # Filled at 03:00, three hours at 0.05 leave 0.65, another 3.25 h at 0.2: 6.25 h.
    # At worst 05:00: one hour leaves 0.75, 3.75 h more: 4.75 h, to a tenth 4.8.
    day = (0.2,) * 84 + (0.05,) * 60
    losses = DryingCurve(step_min=10, loss_l_m2_h=day * 3, held_l_m2=0.8)
    found = lasting(surface_work(curve=losses), 180, LENGTH, NIGHTS)
    assert found == Lasting(day_h=4.0, night_h=4.8)


def test_only_hours_under_the_cover_count() -> None:
    first = (1.6,) * 12 + (0.1,) * (LENGTH // 10 - 12)
    losses = DryingCurve(step_min=10, loss_l_m2_h=first, held_l_m2=0.8)
    surface = surface_work(curve=losses)
    assert lasting(surface, 120, LENGTH, NIGHTS).day_h == 8
    assert lasting(surface, 0, LENGTH, NIGHTS).day_h == 0.5


def test_a_filling_that_outlasts_the_plan_has_no_length() -> None:
    slow = surface_work(curve=curve(0.001))
    assert lasting(slow, 0, LENGTH, NIGHTS) == Lasting(None, None)


def test_nothing_to_fill_has_no_length() -> None:
    assert lasting(surface_work(curve=None), 0, LENGTH, NIGHTS) == Lasting()
    assert lasting(surface_work(), None, LENGTH, NIGHTS) == Lasting()


def test_a_filling_of_less_than_a_shift_calls_somebody_oftener_than_looks_do() -> None:
    # Of the eight hours of a shift: 8 / 2.5 = 3.2, so four times.
    assert visits_per_shift(surface_work(), Lasting(day_h=2.5, night_h=6)) == 4
    assert visits_per_shift(surface_work(), Lasting(day_h=30, night_h=44)) == 1
    assert visits_per_shift(surface_work(), Lasting()) == 1


def test_steam_is_read_every_hour() -> None:
    hours = [
        task(f"r{i}", kind="steam_watch", earliest_min=60 * i, latest_min=60 * i + 60)
        for i in range(3)
    ]
    assert visits_per_shift(surface_work(*hours), Lasting()) == 8
