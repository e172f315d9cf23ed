"""Figures over a chart, against values worked out by hand."""

from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from exports.clocks.figures import (
    cover_figures,
    fastest_cooling,
    heat_figures,
    hours_full_cover_lasts,
)
from models.local_clock import LocalClock
from models.records import DryingHistory, Spread
from tests.builders import MONDAY
from tests.exports.clocks.clocks_builders import drying, hydration

Sides = tuple[DryingHistory, ...]
CLOCK = LocalClock("Europe/Berlin")
END = MONDAY + timedelta(hours=36)


def lasts(loss: list[float], held: float, start: int = 0) -> tuple[float, bool]:
    hours, empties = hours_full_cover_lasts(
        np.array(loss), held, 60, np.array([start], dtype=np.int_)
    )
    return float(hours[0]), bool(empties[0])


def test_even_loss_lasts_the_held_water_over_the_loss() -> None:
    # 0.8 L/m² at 0.3 L/(m² h): two hours take 0.6, the rest 0.2/0.3 of an hour.
    hours, empties = lasts([0.3] * 5, 0.8)
    assert hours == pytest.approx(2 + 2 / 3)
    assert empties


def test_rain_fills_the_cover_but_not_above_what_it_holds() -> None:
    # 0.8 − 0.4, + 5.0 of rain back to 0.8, then two hours of 0.4.
    hours, empties = lasts([0.4, -5.0, 0.4, 0.4, 0.4], 0.8)
    assert hours == pytest.approx(4)
    assert empties


def test_cover_that_outlives_the_weather_lasts_at_least_so_long() -> None:
    assert lasts([0.1] * 5, 0.8, start=2) == (3, False)


@given(st.lists(st.floats(0, 0.5), min_size=1, max_size=40), st.floats(0.1, 2))
def test_no_wetting_later_dries_out_earlier(loss: list[float], held: float) -> None:
    # Without rain a cover filled later holds more at every instant from then on.
    starts = np.arange(len(loss))
    hours, _ = hours_full_cover_lasts(np.array(loss), held, 60, starts)
    dry_at = starts + hours
    assert (np.diff(dry_at) >= -1e-6).all()


def test_fastest_cooling_is_over_a_whole_hour() -> None:
    # From 30 to 27 in the hour after step 1; the jump of 1.5 in ten minutes lies in it.
    course = np.array([np.nan, 30.0, 29.8, 29.6, 28.1, 27.8, 27.4, 27.0, 27.0])
    step, rate_k_h = fastest_cooling(course, 10) or (-1, 0.0)
    assert step == 1
    assert rate_k_h == pytest.approx(3.0)


def test_what_only_warms_has_no_cooling() -> None:
    assert fastest_cooling(np.linspace(10, 20, 20), 10) is None


def test_heat_figures_say_where_and_when() -> None:
    # Placed 2 h into the week (08:00 CEST), core at 20 + 2 × 12 = 44 °C at 20:00.
    warmest, apart = heat_figures(hydration(), "P1-top", END, CLOCK, "si")
    assert warmest.words == "warmest 44.0 °C (core, Mon 3 May 20:00 CEST)"
    assert apart.words == (
        "largest core–surface difference 24.0 K (Mon 3 May 20:00 CEST)"
    )


def test_what_lies_beyond_the_week_does_not_count() -> None:
    # One step of the grid before 12:00: 20 + 2 × (4 − 1/6) = 27.7 °C.
    noon = MONDAY + timedelta(hours=6)
    warmest = heat_figures(hydration(), "P1-top", noon, CLOCK, "si")[0]
    assert warmest.value == "27.7 °C"


def test_surface_not_yet_placed_has_no_temperatures() -> None:
    figures = heat_figures(hydration(), "P1-top", MONDAY, CLOCK, "si")
    assert [figure.words for figure in figures] == ["placed after this week"]


def test_cover_figure_takes_the_worst_and_the_best_start() -> None:
    made = drying()
    # From the week's tenth hour (step 12 + 60) on P2's cover loses twice as much.
    made.cover_loss_l_m2_h[72:, 1] = 0.2
    covered = [(MONDAY, MONDAY + timedelta(hours=12))]
    (figure,) = cover_figures(made, "P2-top", covered, CLOCK, Spread())
    # Best: filled at the start 0.1 L/(m² h) for the whole eight hours; worst 0.8/0.2.
    assert figure.value == "4.0 h at worst, 8.0 h at best"
    assert "Mon 3 May 16:00 CEST" in figure.where
    assert "Mon 3 May 06:00 CEST" in figure.where


def test_forecast_and_model_that_are_off_stand_beside_the_figure() -> None:
    def sides(early: float, late: float, held: tuple[float, float]) -> Sides:
        return tuple(
            replace(
                drying(),
                cover_loss_l_m2_h=share * drying().cover_loss_l_m2_h,
                held_l_m2=of_held * drying().held_l_m2,
                held_steps_l_m2=of_held * drying().held_steps_l_m2,
            )
            for share, of_held in zip((early, late), held, strict=True)
        )

    spread = Spread(
        forecast=sides(1.25, 0.8, (1, 1)), model=sides(1.4, 0.6, (0.75, 1.5))
    )
    covered = [(MONDAY, MONDAY + timedelta(hours=4))]
    found = cover_figures(drying(), "P2-top", covered, CLOCK, spread)
    # 0.8 L/m² at 0.1 L/(m² h); at 0.125 and 0.08; 0.6 at 0.14, 1.2 at 0.06.
    assert [figure.words for figure in found[1:]] == [
        "if the forecast is off 6.4 h at worst, 10 h at best",
        "if the model is off 4.3 h at worst, 20 h at best",
    ]
    assert found[0].value == "8.0 h at worst, 8.0 h at best"


def test_compound_has_no_cover_to_dry() -> None:
    covered = [(MONDAY, MONDAY + timedelta(hours=12))]
    assert cover_figures(drying(), "P3-wall", covered, CLOCK, Spread()) == ()


def test_surface_never_covered_this_week_has_no_hours() -> None:
    assert cover_figures(drying(), "P1-top", [], CLOCK, Spread()) == ()
