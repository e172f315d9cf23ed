"""A cover's water minute by minute."""

import numpy as np
import pytest

from models.records import DryingCurve, Stretch
from scheduler.estimates.wetness import flags_of, wetness_of
from tests.scheduler.estimates.advise_builders import LENGTH, curve, surface_work


def test_a_full_cover_is_dry_when_its_water_is_gone() -> None:
    # 0.8 L/m² at 0.1 L/(m² h) is 8 h, 480 min.
    wetness = wetness_of(surface_work(), LENGTH)
    assert wetness.full_until(0) == 480
    assert wetness.full_until(100) == 580
    assert wetness.full_until(LENGTH - 10) == LENGTH


def test_rain_fills_a_cover_no_further_than_it_holds() -> None:
    # Two hours at 0.1 take 0.2 of the 0.8; an hour of rain at 1.0 fills it again and
    # runs over. From minute 180 on it is full: dry 480 min later.
    losses = (0.1,) * 12 + (-1.0,) * 6 + (0.1,) * (LENGTH // 10 - 18)
    rained = DryingCurve(step_min=10, loss_l_m2_h=losses, held_l_m2=0.8)
    assert wetness_of(surface_work(curve=rained), LENGTH).full_until(0) == 180 + 480


def test_rain_alone_keeps_an_empty_cover_wet_for_a_while() -> None:
    # An hour of rain brings 0.3 L/m², which then lasts 3 h: wet from the minute after
    # the first drop, 121, until 360 has begun.
    losses = (0.1,) * 12 + (-0.3,) * 6 + (0.1,) * (LENGTH // 10 - 18)
    rained = DryingCurve(step_min=10, loss_l_m2_h=losses, held_l_m2=0.8)
    wet = wetness_of(surface_work(curve=rained), LENGTH).rain_wet(0)
    assert np.flatnonzero(wet).tolist() == list(range(121, 360))
    # A cover that goes on at minute 150 has missed half of it: 0.15 L/m², 90 min.
    late = wetness_of(surface_work(curve=rained), LENGTH).rain_wet(150)
    assert np.flatnonzero(late).tolist() == list(range(151, 270))


@pytest.mark.parametrize(
    ("reserve_l_m2", "covered_from_min", "dry_from_min"),
    [(0.4, -600, 240), (0.0, -600, 0), (0.4, 100, 0)],
)
def test_what_a_reported_cover_holds_at_the_start(
    reserve_l_m2: float, covered_from_min: int, dry_from_min: int
) -> None:
    work = surface_work(
        covered_from_min=covered_from_min, reserve_at_start_l_m2=reserve_l_m2
    )
    assert wetness_of(work, LENGTH).start_until() == dry_from_min


def test_nothing_dries_out_under_a_film() -> None:
    assert wetness_of(surface_work(curve=None), LENGTH).full_until(5) == LENGTH


def test_a_thirsty_cover_is_dry_at_once_where_it_holds_less_than_a_minute_takes() -> (
    None
):
    tiny = wetness_of(surface_work(curve=curve(6.0, 0.05)), LENGTH)
    assert tiny.full_until(0) == 1


def test_stretches_before_the_plan_are_cut() -> None:
    flags = flags_of([Stretch(from_min=-20, until_min=3)], 10)
    assert np.flatnonzero(flags).tolist() == [0, 1, 2]
