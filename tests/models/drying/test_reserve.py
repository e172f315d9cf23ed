import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.drying.ranges import Floats
from models.drying.reserve import dries_at_h, wetted_by_h
from models.errors import OutOfRangeError

STEPS = 48
STEP_H = 0.5
END_H = STEPS * STEP_H

dry_weather = st.lists(st.floats(0.05, 1.5), min_size=STEPS, max_size=STEPS)
any_weather = st.lists(st.floats(-3, 1.5), min_size=STEPS, max_size=STEPS)
within = st.floats(0, END_H)
held = st.floats(0.2, 3)


def losses(values: list[float]) -> Floats:
    return np.asarray(values, dtype=np.float64)


def test_a_steady_loss_divides_what_is_held() -> None:
    # 0.8 L/m² at 0.25 L/(m² h) last 3.2 h.
    steady = np.full(STEPS, 0.25)
    assert float(dries_at_h(1.3, steady, STEP_H, 0.8)) == pytest.approx(4.5)
    assert float(wetted_by_h(4.5, steady, STEP_H, 0.8)) == pytest.approx(1.3)


def test_rain_fills_a_cover_but_not_above_what_it_holds() -> None:
    # Full at 0: 0.6 left after an hour at 0.4; a cloudburst fills it to 1.0, no more;
    # then 2.5 h at 0.4 to dry: at 1 + 1 + 2.5 = 4.5 h.
    weather = np.array([0.4, -9.0, 0.4, 0.4, 0.4, 0.4])
    assert float(dries_at_h(0, weather, 1, 1.0)) == pytest.approx(4.5)


def test_a_cover_dried_out_before_the_rain_stays_recorded_as_dry() -> None:
    weather = np.array([1.0, 1.0, -5.0, 0.1])
    assert float(dries_at_h(0, weather, 1, 1.5)) == pytest.approx(1.5)


def test_a_cover_that_lasts_beyond_the_steps_dries_never_here() -> None:
    steady = np.full(STEPS, 0.01)
    assert float(dries_at_h(0, steady, STEP_H, 0.8)) == np.inf
    assert float(wetted_by_h(END_H, steady, STEP_H, 0.8)) == -np.inf


@given(dry_weather, held, within)
def test_the_two_questions_answer_each_other(
    values: list[float], held_l_m2: float, wetted_h: float
) -> None:
    weather = losses(values)
    dry_h = float(dries_at_h(wetted_h, weather, STEP_H, held_l_m2))
    if dry_h <= END_H:
        back_h = float(wetted_by_h(dry_h, weather, STEP_H, held_l_m2))
        # A filling at the very beginning may be put a rounding error before it.
        assert max(back_h, 0) == pytest.approx(wetted_h, abs=1e-6)


@given(any_weather, held, within)
def test_the_earliest_filling_lasts_as_long_as_asked(
    values: list[float], held_l_m2: float, dry_h: float
) -> None:
    weather = losses(values)
    wetted_h = float(wetted_by_h(dry_h, weather, STEP_H, held_l_m2))
    if 0 <= wetted_h < dry_h:
        just_after = min(wetted_h + 1e-6, dry_h)
        lasts_h = float(dries_at_h(just_after, weather, STEP_H, held_l_m2))
        assert lasts_h >= dry_h - 1e-5


@given(any_weather, held, within, within)
def test_a_later_filling_never_dries_sooner(
    values: list[float], held_l_m2: float, one_h: float, other_h: float
) -> None:
    early_h, late_h = sorted((one_h, other_h))
    early, late = dries_at_h(
        np.array([early_h, late_h]), losses(values), STEP_H, held_l_m2
    )
    assert early <= late + 1e-9


@given(dry_weather, held, within, st.integers(0, STEPS - 1), st.floats(0, 5))
def test_rain_never_shortens(
    values: list[float], held_l_m2: float, wetted_h: float, step: int, rain: float
) -> None:
    weather = losses(values)
    wet_weather = weather.copy()
    wet_weather[step] -= rain
    without = float(dries_at_h(wetted_h, weather, STEP_H, held_l_m2))
    assert float(dries_at_h(wetted_h, wet_weather, STEP_H, held_l_m2)) >= without - 1e-9


@given(any_weather, held, st.lists(within, min_size=1, max_size=5))
@settings(deadline=None)
def test_arrays_give_what_plain_numbers_give(
    values: list[float], held_l_m2: float, times_h: list[float]
) -> None:
    weather = losses(values)
    for function in (dries_at_h, wetted_by_h):
        together = function(np.array(times_h), weather, STEP_H, held_l_m2)
        apart = [float(function(t, weather, STEP_H, held_l_m2)) for t in times_h]
        assert together.tolist() == apart


def test_a_filling_after_the_last_step_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match=r"wetted_at_h = 25: .* 0 to 24 h"):
        dries_at_h(25, np.full(STEPS, 0.1), STEP_H, 0.8)
