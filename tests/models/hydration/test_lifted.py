"""What follows when a cover comes off, marched by clock 1."""

from dataclasses import replace
from datetime import timedelta
from math import erfc, exp, sqrt

import numpy as np
import pytest

from models.drying.covers import cover_properties
from models.drying.surroundings import Surroundings, surroundings
from models.hydration import course
from models.hydration.clock import run
from models.hydration.course import bared, course_of
from models.hydration.lifted import Lifted, Lifting, lifted
from models.hydration.section import (
    CONCRETE_CAPACITY_J_M3K,
    CONCRETE_CONDUCTIVITY_W_MK,
)
from models.records import Grid, Surface
from tests.builders import MONDAY, pour, site_input, surface, weather

GRID = Grid(MONDAY, 10, 9 * 144)
OFF_AT = MONDAY + timedelta(days=5)
OFF = 5 * 144


def of_all(
    *surfaces: Surface, air_c: float = 5, swing_k: float = 0, bare: bool = True
) -> tuple[list[Lifted], np.ndarray[tuple[int, int], np.dtype[np.float64]]]:
    """Each lifted after five days, beside clock 1 with the covers kept on."""
    of = site_input().model_copy(
        update={"weather": weather(mean_c=air_c, swing_k=swing_k)}
    )
    around = surroundings(surfaces, of, GRID)
    kept = run(surfaces, of, around, GRID)
    liftings = [Lifting(one, OFF_AT, bare) for one in surfaces]
    return lifted(liftings, of, around, kept), kept.surface_temperature_c


def under_blankets(thickness_mm: float = 250) -> Surface:
    cover = cover_properties("insulated_blankets")
    of = pour(thickness_mm=thickness_mm)
    return surface(of, method="insulated_blankets", cover=cover)


def test_until_it_comes_off_all_is_as_with_the_cover_on() -> None:
    (after,), kept_c = of_all(under_blankets())
    assert after.face_c[0] == kept_c[OFF - 1, 0]


def test_a_bare_face_cools_toward_the_air_and_the_core_after_it() -> None:
    (after,), kept_c = of_all(under_blankets(800))
    hours = np.array([1, 6, 24]) * 6
    assert (np.diff(after.face_c[:7]) < 0).all()
    assert (after.face_c[hours] < kept_c[OFF + hours, 0] - 3).all()
    assert (after.core_c[hours] > after.face_c[hours] + 1).all()


def test_it_is_followed_for_three_days_or_to_the_end_of_the_clock() -> None:
    (after,), _ = of_all(under_blankets())
    assert len(after.face_c) == 3 * 144
    late = Lifting(under_blankets(), MONDAY + timedelta(days=8))
    of = site_input()
    around = surroundings([late.surface], of, GRID)
    (short,) = lifted([late], of, around, run([late.surface], of, around, GRID))
    assert len(short.face_c) == 144


def test_a_change_of_its_own_is_followed_as_the_clock_has_it() -> None:
    (after,), kept_c = of_all(under_blankets(), bare=False)
    assert after.face_c[1:] == pytest.approx(kept_c[OFF + 1 : OFF + 3 * 144, 0])


def test_many_are_each_as_they_are_alone() -> None:
    slabs = [under_blankets(200 + mm).model_copy(update={"id": f"P{mm}"})
             for mm in range(0, 300, 100)]  # fmt: skip
    together, _ = of_all(*slabs)
    for slab, one in zip(slabs, together, strict=True):
        (alone,), _ = of_all(slab)
        assert alone.face_c == pytest.approx(one.face_c, abs=1e-9)


def test_the_first_hour_is_that_of_a_half_space_in_a_new_film(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Carslaw and Jaeger: 1 - exp(b²) erfc(b), b = h sqrt(a t) / k (from memory).

    Still air, saturated and as warm as the sky: the film is 5.6 W/(m² K) of convection
    and 4 × 0.9 × 5.67e-8 × T³ of radiation at the mean of face and air.
    """
    monkeypatch.setattr(course, "_CURED_FILM_KG_M2_H_KPA", 0.0)  # a dry face
    slab = under_blankets(2000)
    of = site_input()
    column = np.full((GRID.steps, 1), 10.0)
    calm = Surroundings(
        grid=GRID, air_temperature_c=column, humidity_fraction=column * 0 + 1,
        wind_m_s=column * 0, solar_w_m2=column * 0, sky_temperature_c=column,
        rain_l_m2_h=column * 0, air_pressure_kpa=101.3,
    )  # fmt: skip
    kept = run([slab], of, calm, GRID)
    (after,) = lifted([Lifting(slab, OFF_AT)], of, calm, kept)
    start_c, hour_c = after.face_c[0], after.face_c[6]
    film_w_m2k = 5.6 + 4 * 0.9 * 5.67e-8 * ((start_c + hour_c) / 2 / 2 + 278.15) ** 3
    diffusivity_m2_s = CONCRETE_CONDUCTIVITY_W_MK / CONCRETE_CAPACITY_J_M3K
    b = film_w_m2k * sqrt(diffusivity_m2_s * 3600) / CONCRETE_CONDUCTIVITY_W_MK
    # What flowed through the blankets before goes on flowing from inside: the part of
    # the difference that drives it does not fall.
    resistance_m2k_w = slab.cover.resistance_m2k_w
    flowed_w_m2 = (start_c - 10) / (resistance_m2k_w + 1 / film_w_m2k)
    driven_k = start_c - 10 - flowed_w_m2 / film_w_m2k
    falls_k = driven_k * (1 - exp(b * b) * erfc(b))
    assert start_c - hour_c == pytest.approx(falls_k, rel=0.03)


def test_lifting_leaves_the_course_of_others_alone() -> None:
    slab = surface()
    mixes = [site_input().site.mixes[0]] * 2
    before = course_of([slab, slab], mixes, {}, GRID, 10)
    never = np.array([OFF, GRID.steps])
    found = bared(before, never)
    assert len(found.stages) == len(before.stages) + 1
    kept = replace(found, stages=before.stages, later_steps=before.later_steps)
    assert kept == before
