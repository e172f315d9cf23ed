"""The weather as each surface meets it, on the planning grid.

Hours become steps, wind is that half a metre above the surface and behind shelter, sun
and sky are turned to the face; where a surface is steamed, the steam takes their place.
What is the same for all surfaces stays one column.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Literal

import numpy as np

from models.drying.air import air_pressure_kpa, dew_point_c
from models.drying.sky import sky_temperature_c
from models.drying.steam import CycleHours, steam_air_c
from models.drying.sun import solar_position_deg, vertical_mean_w_m2
from models.drying.wind import wind_at_half_metre_m_s
from models.errors import OutOfRangeError
from models.records import Floats, Grid, SiteInput, SteamCycle, Surface

Exposure = Literal["open", "sheltered", "indoors"]

#: Share of the open site's wind, sun and sky that reaches a surface. All assumptions:
#: sheltered is between walls or under a scaffold, indoors an unheated shell with
#: openings, where air and humidity stay those outside.
WIND_FRACTION: dict[Exposure, float] = {"open": 1.0, "sheltered": 0.5, "indoors": 0.1}
SUN_FRACTION: dict[Exposure, float] = {"open": 1.0, "sheltered": 0.5, "indoors": 0.0}
SKY_FRACTION: dict[Exposure, float] = {"open": 1.0, "sheltered": 0.5, "indoors": 0.0}

#: Air outdoors is never drier; a weather file's 0 % would have no dew point.
_LEAST_HUMIDITY = 0.01
_NOON_2000 = datetime(2000, 1, 1, 12, tzinfo=UTC)
_ZERO_C_K = 273.15


@dataclass(frozen=True)
class Surroundings:
    """What drives both clocks: arrays ``(steps, surfaces)`` or ``(steps, 1)``.

    Attributes
    ----------
    air_temperature_c, humidity_fraction : array
        Of the air near the surface, at the beginning of each step.
    wind_m_s : array
        Half a metre above the surface, shelter counted.
    solar_w_m2 : array
        On the face, not yet absorbed.
    sky_temperature_c : array
        Of what the face sees, sky and surroundings together.
    rain_l_m2_h : array
        On open tops; 0 elsewhere.
    air_pressure_kpa : float
        Of the site's height above the sea; the weather's own swing is left out.
    """

    grid: Grid
    air_temperature_c: Floats
    humidity_fraction: Floats
    wind_m_s: Floats
    solar_w_m2: Floats
    sky_temperature_c: Floats
    rain_l_m2_h: Floats
    air_pressure_kpa: float

    def at_columns(self, columns: Sequence[int]) -> "Surroundings":
        """Give what some of the surfaces meet, each as often as it is named."""

        def those(values: Floats) -> Floats:
            return values if values.shape[1] == 1 else values[:, list(columns)]

        return Surroundings(
            grid=self.grid,
            air_temperature_c=those(self.air_temperature_c),
            humidity_fraction=those(self.humidity_fraction),
            wind_m_s=those(self.wind_m_s),
            solar_w_m2=those(self.solar_w_m2),
            sky_temperature_c=those(self.sky_temperature_c),
            rain_l_m2_h=those(self.rain_l_m2_h),
            air_pressure_kpa=self.air_pressure_kpa,
        )


def surroundings(
    surfaces: Sequence[Surface], site_input: SiteInput, grid: Grid
) -> Surroundings:
    """Bring the site's weather to the surfaces, one row a step.

    Raises
    ------
    OutOfRangeError
        If the weather does not reach over the grid, or a value is out of the range of
        the formulas of ``air.py``.
    """
    site, weather = site_input.site, site_input.weather
    hours = weather.hours
    hour = (grid.starts_at - hours[0].at).total_seconds() / 3600
    position = hour + np.arange(grid.steps) * grid.step_min / 60
    if position[0] < 0 or position[-1] >= len(hours):
        raise OutOfRangeError(
            name="planning grid, hours from the first hour of weather",
            found=float(position[0] if position[0] < 0 else position[-1]),
            wanted=f"0 to {len(hours)} hours",
            source="the weather given",
        )
    # Values at the hour are joined by lines; means and sums after it hold for it.
    within = position.astype(int)

    def line(values: Sequence[float]) -> Floats:
        return _column(np.interp(position, np.arange(len(hours)), values))

    def steps(values: Sequence[float]) -> Floats:
        return _column(np.asarray(values, dtype=np.float64)[within])

    air_c = line([h.air_temperature_c for h in hours])
    humidity = np.maximum(line([h.humidity_fraction for h in hours]), _LEAST_HUMIDITY)
    height_m = {zone.id: zone.above_ground_m for zone in site.zones}
    wind_m_s = wind_at_half_metre_m_s(
        line([h.wind_m_s for h in hours]),
        weather.wind_height_m,
        site.roughness_mm,
        _columns([height_m[s.zone_id] for s in surfaces]),
    )
    ground_w_m2 = steps([h.solar_w_m2 for h in hours])
    open_sky_c = sky_temperature_c(
        air_c, dew_point_c(air_c, humidity), steps([h.cloud_fraction for h in hours])
    )

    first = (grid.starts_at - _NOON_2000).total_seconds() / 86400
    days = first + (np.arange(grid.steps) + 0.5) * grid.step_min / 1440
    zenith_deg, _ = solar_position_deg(days, site.latitude_deg, site.longitude_deg)
    upright_w_m2 = vertical_mean_w_m2(ground_w_m2, _column(zenith_deg))

    vertical = _columns([float(s.vertical) for s in surfaces])
    wind_share = _columns([WIND_FRACTION[s.exposure] for s in surfaces])
    sun_share = _columns([SUN_FRACTION[s.exposure] for s in surfaces])
    # An upright face sees as much ground, at air temperature, as sky.
    sky_share = _columns(
        [SKY_FRACTION[s.exposure] * (0.5 if s.vertical else 1.0) for s in surfaces]
    )
    wet_share = _columns(
        [float(s.exposure == "open" and s.face == "top") for s in surfaces]
    )
    seen_k4 = (
        sky_share * (open_sky_c + _ZERO_C_K) ** 4
        + (1 - sky_share) * (air_c + _ZERO_C_K) ** 4
    )
    around = Surroundings(
        grid=grid,
        air_temperature_c=air_c,
        humidity_fraction=humidity,
        wind_m_s=wind_share * wind_m_s,
        solar_w_m2=sun_share * (vertical * upright_w_m2 + (1 - vertical) * ground_w_m2),
        sky_temperature_c=seen_k4**0.25 - _ZERO_C_K,
        rain_l_m2_h=wet_share * steps([h.rain_mm for h in hours]),
        air_pressure_kpa=float(air_pressure_kpa(site.elevation_m)),
    )
    steamed = any(surface.steam for surface in surfaces)
    return _in_steam(around, surfaces) if steamed else around


def _in_steam(around: Surroundings, surfaces: Sequence[Surface]) -> Surroundings:
    """Put steam in the place of the weather where an enclosure is full of it."""
    grid, shape = around.grid, (around.grid.steps, len(surfaces))
    air_c = np.broadcast_to(around.air_temperature_c, shape).copy()
    inside = np.zeros(shape, dtype=np.bool_)
    for column, surface in enumerate(surfaces):
        if surface.steam is not None:
            air_c[:, column], inside[:, column] = steam_air_c(
                air_c[:, column],
                grid.step_min / 60,
                _cycle_hours(surface.steam, grid),
                surface.steam.hold_c,
            )
    return Surroundings(
        grid=grid,
        air_temperature_c=air_c,
        humidity_fraction=np.where(inside, 1.0, around.humidity_fraction),
        wind_m_s=np.where(inside, 0.0, around.wind_m_s),
        solar_w_m2=np.where(inside, 0.0, around.solar_w_m2),
        sky_temperature_c=np.where(inside, air_c, around.sky_temperature_c),
        rain_l_m2_h=np.where(inside, 0.0, around.rain_l_m2_h),
        air_pressure_kpa=around.air_pressure_kpa,
    )


def _cycle_hours(steam: SteamCycle, grid: Grid) -> CycleHours:
    times = (steam.starts_at, steam.hold_from_at, steam.hold_until_at, steam.ends_at)
    return CycleHours(*((at - grid.starts_at).total_seconds() / 3600 for at in times))


def _column(values: Floats) -> Floats:
    column: Floats = values[:, None]
    return column


def _columns(values: Sequence[float]) -> Floats:
    """One row, of one column where all surfaces are alike."""
    kept = values[:1] if len(set(values)) == 1 else values
    return np.asarray(kept, dtype=np.float64)[None, :]
