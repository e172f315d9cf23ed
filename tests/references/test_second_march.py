"""Both clocks against the second model on seven corners of what sites meet."""

from datetime import timedelta
from functools import cache
from math import pi, sin
from typing import NamedTuple

import numpy as np
import pytest

from models.drying import clock as drying_clock
from models.drying.cover_stages import film_of, leak_of
from models.drying.covers import cover_properties
from models.drying.surroundings import surroundings
from models.hydration import clock as hydration_clock
from models.records import (
    CoverKind,
    DryingHistory,
    Element,
    EventName,
    Floats,
    Grid,
    HydrationHistory,
    SiteInput,
    Weather,
    WeatherHour,
)
from tests.builders import MONDAY, pour, site_input, surface
from tests.references import second_march
from tests.references.second_march import March

#: Placed an hour after the clocks begin, followed for four days.
_BEFORE_H, _HOURS = 1, 96
_STEPS = 6 * _HOURS


class Corner(NamedTuple):
    """A member and its weather; the day swings about the means, warmest at 15:00."""

    mean_c: float
    swing_k: float
    humidity: float
    wind_m_s: float
    sun_w_m2: float
    cloud: float
    element: Element
    thickness_mm: float
    placed_c: float
    kind: CoverKind
    cover_from: EventName
    cement_kg_m3: float = 340
    water_c: float | None = None


CORNERS = {
    "frost and wind": Corner(
        -5, 4, 0.8, 9, 150, 0.6, "suspended_slab", 200, 12, "sheet_over_burlap",
        "takes_cover",
    ),
    "calm under a clear sky": Corner(
        12, 9, 0.6, 0.3, 700, 0.0, "slab_on_ground", 200, 18, "burlap_double",
        "takes_cover",
    ),
    "45 °C and dry": Corner(
        38, 7, 0.12, 5, 950, 0.0, "slab_on_ground", 200, 32, "burlap_double",
        "takes_cover",
    ),
    "saturated air": Corner(
        18, 5, 1.0, 3, 300, 0.8, "suspended_slab", 250, 20, "cotton_mats",
        "bears_people",
    ),
    "80 mm": Corner(
        20, 8, 0.5, 4, 700, 0.2, "suspended_slab", 80, 22, "plastic_sheet",
        "takes_cover",
    ),
    "a raft of 2 m": Corner(
        15, 6, 0.6, 3, 600, 0.3, "footing", 2000, 20, "insulated_blankets",
        "bears_people", 380,
    ),
    "a cold pond": Corner(
        28, 8, 0.3, 4, 800, 0.1, "slab_on_ground", 200, 28, "pond", "bears_people",
        water_c=10,
    ),
}  # fmt: skip


def weather_of(corner: Corner) -> Weather:
    def hour(index: int) -> WeatherHour:
        at = MONDAY + timedelta(hours=index)
        day = sin(2 * pi * (at.hour - 9) / 24)
        lit = max(0.0, sin(pi * (at.hour - 5) / 14)) if 5 <= at.hour <= 19 else 0.0
        humidity = corner.humidity
        return WeatherHour(
            at=at,
            air_temperature_c=corner.mean_c + corner.swing_k * day,
            humidity_fraction=1.0 if humidity == 1 else humidity * (1 - 0.2 * day),
            wind_m_s=corner.wind_m_s * (1 + 0.3 * day),
            solar_w_m2=corner.sun_w_m2 * lit,
            cloud_fraction=corner.cloud,
        )

    return Weather(
        wind_height_m=10, hours=tuple(hour(i) for i in range(_BEFORE_H + _HOURS + 3))
    )


def folder(corner: Corner) -> SiteInput:
    placed_at = MONDAY + timedelta(hours=_BEFORE_H)
    given = site_input(
        pour(
            element=corner.element, thickness_mm=corner.thickness_mm,
            placing_temperature_c=corner.placed_c,
            placing_starts_at=placed_at - timedelta(hours=1), placing_ends_at=placed_at,
        )
    )  # fmt: skip
    mix = given.site.mixes[0].model_copy(update={"cement_kg_m3": corner.cement_kg_m3})
    site = given.site.model_copy(update={"mixes": (mix,)})
    return given.model_copy(update={"weather": weather_of(corner), "site": site})


class Both(NamedTuple):
    """The clocks' histories from placing on, and the second model's."""

    hydration: HydrationHistory
    drying: DryingHistory
    second: March


@cache
def both(name: str) -> Both:
    corner = CORNERS[name]
    given, cover = folder(corner), cover_properties(corner.kind)
    cover = cover.model_copy(update={"laid_at_c": corner.water_c, "leak_mm_d": 0})
    of = surface(given.pours[0], cover=cover, cover_from=corner.cover_from)
    grid = Grid(MONDAY, 10, 6 * (_BEFORE_H + _HOURS))
    around = surroundings((of,), given, grid)
    hydration = hydration_clock.run((of,), given, around, grid)
    drying = drying_clock.run((of,), given, around, hydration)
    hours = given.weather.hours[_BEFORE_H:]
    ages_h = {"takes_cover": 5.5, "bears_people": 6.5}
    second = second_march.march(
        second_march.Member(
            thickness_m=corner.thickness_mm / 1000,
            on_ground=corner.element in ("slab_on_ground", "footing"),
            placed_c=corner.placed_c,
            ground_c=given.site.ground_temperature_c,
            cement_kg_m3=corner.cement_kg_m3,
            cover=second_march.Cover(
                ages_h[corner.cover_from], cover.resistance_m2k_w,
                cover.absorptivity_fraction, cover.emissivity_fraction,
                film_of(cover), leak_of(cover, of.area_m2),
                1000 * cover.capacity_kj_m2k, cover.laid_at_c or 0,
            ),
        ),
        second_march.Weather(
            [h.air_temperature_c for h in hours],
            [h.humidity_fraction for h in hours],
            [h.wind_m_s for h in hours],
            [h.solar_w_m2 for h in hours],
            [h.cloud_fraction for h in hours],
        ),
        _HOURS,
    )  # fmt: skip
    return Both(hydration, drying, second)


def column(values: Floats) -> Floats:
    return np.asarray(values[6 * _BEFORE_H : 6 * _BEFORE_H + _STEPS, 0])


def rms(one: Floats, other: list[float]) -> float:
    return float(np.sqrt(np.mean((one - np.array(other)) ** 2)))


@pytest.mark.parametrize("name", CORNERS)
def test_surface_and_core_have_the_temperatures_of_the_second_model(name: str) -> None:
    found = both(name)
    surface_c = column(found.hydration.surface_temperature_c)
    core_c = column(found.hydration.core_temperature_c)
    assert rms(surface_c, found.second.surface_c) < 0.5
    assert rms(core_c, found.second.core_c) < 0.3


@pytest.mark.parametrize("name", CORNERS)
def test_covers_lose_the_water_of_the_second_model(name: str) -> None:
    found, six_h = both(name), 36
    ours = float(column(found.drying.cover_loss_l_m2_h)[six_h:].sum())
    theirs = sum(found.second.loss_kg_m2_h[six_h:])
    assert ours == pytest.approx(theirs, rel=0.02)


@pytest.mark.parametrize("name", CORNERS)
def test_events_come_when_the_second_model_has_them(name: str) -> None:
    found = both(name)
    events, placed_at = found.hydration.events[0], MONDAY + timedelta(hours=_BEFORE_H)
    for window, age_h in (
        (events.sheen_gone, 3.15), (events.takes_cover, 5.5),
        (events.bears_people, 6.5), (events.final_set, 6.5),
    ):  # fmt: skip
        after_min = (window.expected_at - placed_at).total_seconds() / 60
        second_min = 60 * found.second.reached_h[age_h]
        assert abs(after_min - second_min) <= 15


@pytest.mark.parametrize("name", CORNERS)
def test_strength_grows_as_in_the_second_model(name: str) -> None:
    found = both(name)
    off = column(found.hydration.strength_fraction) - found.second.strength
    assert float(np.abs(off).max()) < 0.01


def test_the_corners_are_corners() -> None:
    """Frost that freezes before set, a wet face far below the air, a hot core."""
    frost, desert, raft = (
        both(name).second for name in ("frost and wind", "45 °C and dry",
                                       "a raft of 2 m")
    )  # fmt: skip
    assert min(frost.surface_c) < -5
    assert min(frost.surface_c[: 6 * int(frost.reached_h[6.5])]) < 0
    assert max(desert.loss_kg_m2_h) > 1
    assert max(raft.core_c) > 60
