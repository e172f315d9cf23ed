from datetime import timedelta

import numpy as np
import pytest

from models.drying.surroundings import Surroundings, surroundings
from models.errors import OutOfRangeError
from models.records import Grid, SiteInput, SteamCycle, Surface
from tests.builders import MONDAY, pour, site_input, surface
from tests.models.drying.drying_builders import GRID


def place(**fields: object) -> Surface:
    return surface(None, **fields)


def rainy(rain_mm: float) -> SiteInput:
    """It rains in the hour from 05:00 UTC on Monday."""
    given = site_input()
    hours = tuple(
        h.model_copy(update={"rain_mm": rain_mm})
        if h.at == MONDAY + timedelta(hours=1)
        else h
        for h in given.weather.hours
    )
    weather = given.weather.model_copy(update={"hours": hours})
    return given.model_copy(update={"weather": weather})


def arrays(around: Surroundings) -> dict[str, tuple[int, ...]]:
    return {
        name: getattr(around, name).shape
        for name in (
            "air_temperature_c", "humidity_fraction", "wind_m_s",
            "solar_w_m2", "sky_temperature_c", "rain_l_m2_h",
        )
    }  # fmt: skip


def test_surfaces_that_are_alike_share_a_column() -> None:
    around = surroundings((place(), place()), site_input(), GRID)
    assert set(arrays(around).values()) == {(GRID.steps, 1)}


def test_only_what_differs_has_a_column_a_surface() -> None:
    around = surroundings((place(), place(exposure="sheltered")), site_input(), GRID)
    shapes = arrays(around)
    assert shapes["air_temperature_c"] == shapes["humidity_fraction"] == (GRID.steps, 1)
    assert shapes["wind_m_s"] == shapes["sky_temperature_c"] == (GRID.steps, 2)


def test_values_at_the_hour_are_kept_and_joined_by_lines() -> None:
    given = site_input()
    around = surroundings((place(),), given, GRID)
    by_hour = {h.at: h for h in given.weather.hours}
    first, second = by_hour[GRID.at(0)], by_hour[GRID.at(6)]
    air = around.air_temperature_c[:, 0]
    assert air[0] == pytest.approx(first.air_temperature_c)
    assert air[6] == pytest.approx(second.air_temperature_c)
    halfway = (first.air_temperature_c + second.air_temperature_c) / 2
    assert air[3] == pytest.approx(halfway)


def test_sun_and_rain_hold_for_the_hour_after() -> None:
    around = surroundings((place(),), rainy(3.0), GRID)
    rain = around.rain_l_m2_h[:, 0]
    start = GRID.step(MONDAY + timedelta(hours=1))
    assert rain[start : start + 6].tolist() == [3.0] * 6
    assert float(rain.sum()) * GRID.step_min / 60 == pytest.approx(3.0)
    sun = around.solar_w_m2[start : start + 6, 0]
    assert len(set(sun.tolist())) == 1


def test_a_deck_high_up_has_the_wind_of_its_height() -> None:
    # Roughness 10 mm: ln(14.5/0.01) / ln(10/0.01) = 7.2793 / 6.9078 = 1.0538 of the
    # wind at 10 m, where the ground has 0.5663 of it.
    given = site_input()
    top = given.site.zones[0].model_copy(update={"height_m": 14.0})
    site = given.site.model_copy(update={"zones": (top, *given.site.zones[1:])})
    around = surroundings(
        (place(), place(zone_id="B")), given.model_copy(update={"site": site}), GRID
    )
    high, low = around.wind_m_s[0]
    assert high / low == pytest.approx(1.0538 / 0.5663, rel=1e-3)


def test_wind_comes_down_to_half_a_metre() -> None:
    # Roughness 10 mm: 0.566 of the wind at 10 m (log law).
    given = site_input()
    around = surroundings((place(),), given, GRID)
    measured = next(h for h in given.weather.hours if h.at == GRID.at(0)).wind_m_s
    assert around.wind_m_s[0, 0] == pytest.approx(0.5663 * measured, rel=1e-3)


def test_a_site_in_the_hills_has_thinner_air() -> None:
    given = site_input()
    site = given.site.model_copy(update={"elevation_m": 1800.0})
    around = surroundings((place(),), given.model_copy(update={"site": site}), GRID)
    # FAO-56 (1998), example 2 (from memory): 81.8 kPa.
    assert around.air_pressure_kpa == pytest.approx(81.8, abs=0.05)


def test_shelter_halves_the_wind_and_a_roof_leaves_a_draught() -> None:
    kinds = ("open", "sheltered", "indoors")
    around = surroundings([place(exposure=k) for k in kinds], site_input(), GRID)
    shares = around.wind_m_s[0] / around.wind_m_s[0, 0]
    assert shares.tolist() == pytest.approx([1, 0.5, 0.1])


def test_indoors_there_is_no_sun_no_rain_and_the_sky_is_the_ceiling() -> None:
    around = surroundings((place(exposure="indoors"),), rainy(3.0), GRID)
    assert around.solar_w_m2.max() == 0
    assert around.rain_l_m2_h.max() == 0
    assert around.sky_temperature_c == pytest.approx(around.air_temperature_c)


def test_the_open_sky_is_the_coldest() -> None:
    kinds = ("open", "sheltered", "indoors")
    around = surroundings([place(exposure=k) for k in kinds], site_input(), GRID)
    assert (np.diff(around.sky_temperature_c, axis=1) > 0).all()


def test_rain_falls_on_open_tops_only() -> None:
    surfaces = (
        place(),
        place(face="formed", vertical=True),
        place(face="formed"),
        place(exposure="sheltered"),
    )
    around = surroundings(surfaces, rainy(3.0), GRID)
    assert around.rain_l_m2_h.max(axis=0).tolist() == [3.0, 0, 0, 0]


def test_upright_faces_get_less_of_the_noon_sun_and_see_half_the_sky() -> None:
    wall = pour(element="wall")
    around = surroundings((place(), surface(wall, vertical=True)), site_input(), GRID)
    noon = GRID.step(MONDAY + timedelta(hours=7))
    assert 0 < around.solar_w_m2[noon, 1] < 0.7 * around.solar_w_m2[noon, 0]
    assert (around.sky_temperature_c[:, 1] > around.sky_temperature_c[:, 0]).all()


def test_nothing_is_ever_not_a_number() -> None:
    dry = site_input()
    hours = tuple(
        h.model_copy(update={"humidity_fraction": 0.0}) for h in dry.weather.hours
    )
    weather = dry.weather.model_copy(update={"hours": hours})
    given = dry.model_copy(update={"weather": weather})
    around = surroundings((place(), place(vertical=True)), given, GRID)
    assert all(np.isfinite(getattr(around, name)).all() for name in arrays(around))


@pytest.mark.parametrize("shift_d", [-3, 9])
def test_a_grid_the_weather_does_not_reach_over_is_refused(shift_d: int) -> None:
    beyond = Grid(MONDAY + timedelta(days=shift_d), 10, 144)
    with pytest.raises(OutOfRangeError, match="the weather given holds for 0 to 264"):
        surroundings((place(),), site_input(), beyond)


def steam() -> SteamCycle:
    hours = (8, 10, 14, 17)
    starts, hold, until, ends = (MONDAY + timedelta(hours=h) for h in hours)
    return SteamCycle(
        starts_at=starts, hold_from_at=hold, hold_until_at=until, ends_at=ends,
        hold_c=60,
    )  # fmt: skip


def test_steam_takes_the_place_of_the_weather_on_its_own_surface_only() -> None:
    plain = surroundings((place(),), site_input(), GRID)
    around = surroundings((place(), place(steam=steam())), site_input(), GRID)
    assert set(arrays(around).values()) == {(GRID.steps, 2)}
    for name in arrays(around):
        assert getattr(around, name)[:, 0] == pytest.approx(getattr(plain, name)[:, 0])

    hold = GRID.step(MONDAY + timedelta(hours=12))
    assert around.air_temperature_c[hold, 1] == pytest.approx(60)
    assert around.sky_temperature_c[hold, 1] == pytest.approx(60)
    assert around.humidity_fraction[hold, 1] == 1
    assert around.wind_m_s[hold, 1] == around.solar_w_m2[hold, 1] == 0
    over = GRID.step(MONDAY + timedelta(hours=17))
    for name in arrays(around):
        after = getattr(around, name)
        assert after[over:, 1] == pytest.approx(after[over:, 0])
