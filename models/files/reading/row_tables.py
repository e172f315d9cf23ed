"""The words of pours, weather, readings and logs: which column becomes which field.

As ``site_tables.py`` does for ``site.toml``.
"""

from models.files.reading.columns import Column, Table
from models.records import LogRow, Pour, Reading, WeatherHour

POUR = Table(
    "pours",
    Pour,
    (
        Column("pour", "id"),
        Column("zone", "zone_id", refers="zone"),
        Column("element", "element"),
        Column("placing_start", "placing_starts_at"),
        Column("placing_end", "placing_ends_at"),
        Column("area", "area_m2", "area"),
        Column("thickness", "thickness_mm", "thickness"),
        Column("formed_area", "formed_area_m2", "area"),
        Column("strike_at", "strike_at"),
        Column("mix", "mix_id", refers="mix"),
        Column("exposure", "exposure"),
        Column("method", "method"),
        Column("formed_method", "formed_method"),
        Column("receives", "receives"),
        Column("finish", "finish"),
        Column("slope", "slope_pct", "percent"),
        Column("risk", "risk"),
        Column("profile", "profile", refers="profile"),
        Column("placing_temperature", "placing_temperature_c", "temperature"),
        Column("covered_at", "covered_at"),
        Column("wetted_at", "wetted_at"),
        Column("edge_area", "edge_area_m2", "area"),
        Column("edge_strike_at", "edge_strike_at"),
        Column("edge_method", "edge_method"),
        Column("then_method", "then_method"),
        Column("then_after", "then_after"),
        Column("crew", "crew_id", refers="crew"),
        Column("shoring_checked", "shoring_checked"),
    ),
    unique="id",
)

#: Solar must be there: without it covers would seem to dry slowly, the unsafe side.
WEATHER = Table(
    "weather",
    WeatherHour,
    (
        Column("time", "at"),
        Column("air_temperature", "air_temperature_c", "temperature"),
        Column("humidity", "humidity_fraction", "share", bare="%"),
        Column("wind", "wind_m_s", "speed"),
        Column("solar", "solar_w_m2", "irradiance", required=True),
        Column("cloud", "cloud_fraction", "share", bare="%"),
        Column("rain", "rain_mm", "depth of water"),
        Column(
            "air_temperature_spread",
            "air_temperature_spread_k",
            "temperature difference",
        ),
        Column("wind_spread", "wind_spread_m_s", "speed"),
    ),
)

READING = Table(
    "readings",
    Reading,
    (
        Column("surface", "surface_id", refers="surface"),
        Column("at", "at"),
        Column("place", "place"),
        Column("temperature", "temperature_c", "temperature"),
    ),
)

LOG = Table(
    "log",
    LogRow,
    (
        Column("what", "what"),
        Column("about", "about"),
        Column("work", "work"),
        Column("visit", "visit_id"),
        Column("issue", "issue_number"),
        Column("at", "at"),
        Column("from", "from_words"),
        Column("to", "to_words"),
        Column("found", "found"),
        Column("litres", "litres_l", "volume"),
        Column("area", "area_m2", "area"),
        Column("people", "people"),
        Column("place", "place"),
        Column("temperature", "temperature_c", "temperature"),
        Column("humidity", "humidity_fraction", "share", bare="%"),
        Column("wind", "wind_m_s", "speed"),
        Column("solar", "solar_w_m2", "irradiance"),
        Column("cloud", "cloud_fraction", "share", bare="%"),
        Column("rain", "rain_mm", "depth of water"),
        Column("why", "why"),
        Column("by", "by"),
        Column("note", "note"),
        Column("correct", "corrects"),
    ),
)
