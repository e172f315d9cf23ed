"""Weather by the hour: forecast, and what was measured before it."""

from pydantic import Field

from models.quantities import Fraction, Instant
from models.records.base import Record


class WeatherHour(Record):
    """The weather at one full hour; solar and rain are means and sums after it.

    As cold and as windy as the formulas of the clocks hold.
    """

    at: Instant
    air_temperature_c: float = Field(ge=-40, le=60)
    humidity_fraction: Fraction
    wind_m_s: float = Field(ge=0, le=40, description="at the weather's own height")
    solar_w_m2: float = Field(0, ge=0, le=1500, description="global horizontal")
    cloud_fraction: Fraction = 0.5
    rain_mm: float = Field(0, ge=0, le=300)
    air_temperature_spread_k: float | None = Field(None, ge=0, le=20)
    wind_spread_m_s: float | None = Field(None, ge=0, le=30)


class Weather(Record):
    """Consecutive hours without a hole."""

    wind_height_m: float = Field(10, ge=0.5, le=100)
    hours: tuple[WeatherHour, ...] = Field(min_length=2)
