"""``weather.csv``: one row an hour.

The height the wind was measured at may stand in a first line such as
``# wind height: 2 m``, or in ``site.toml`` as ``wind_height``.
"""

import re
from pathlib import Path

from models.files.formats.cell_sheet import CellSheet, read_rows
from models.files.formats.csv_file import read_csv
from models.files.inputs.weather_hours import WeatherHours, check_hours
from models.files.reading.local_time import LocalTime
from models.files.reading.problems import ProblemCollector, ValueRefused
from models.files.reading.record_reader import RawEntry
from models.files.reading.row_tables import WEATHER
from models.files.reading.site_tables import SITE
from models.files.reading.values import read_value
from models.records import Weather, WeatherHour

CSV_NAME = "weather.csv"
_HEIGHT = re.compile(r"wind[ _]?height\s*[:=]?\s*(?P<height>\S.*)", re.IGNORECASE)


def read_weather_csv(
    path: Path,
    site_height_m: float | None,
    local: LocalTime,
    problems: ProblemCollector,
) -> WeatherHours | None:
    """Read all hours; None if the file cannot be read at all."""
    sheet = read_csv(path, problems)
    if sheet is None:
        return None
    height_m = _wind_height_m(sheet, site_height_m, local, problems)
    entries = read_rows(sheet, WEATHER, local, problems)
    if len(sheet.rows) == 1:
        problems.add(sheet.place(sheet.rows[0].number), "", "no hours under the header")
    check_hours(entries, local, problems)
    _check_percent(entries, problems)
    return WeatherHours(path.name, height_m, entries)


def _wind_height_m(
    sheet: CellSheet,
    site_height_m: float | None,
    local: LocalTime,
    problems: ProblemCollector,
) -> float:
    column = next(c for c in SITE.readings if c.key == "wind_height")
    default = Weather.model_fields["wind_height_m"].get_default()
    for number, comment in enumerate(sheet.comments, start=1):
        match = _HEIGHT.match(comment)
        if not match:
            continue
        place, found = sheet.place(number), match["height"].strip()
        try:
            height = read_value(found, column, local)
        except ValueRefused as no:
            problems.add(place, "wind height", repr(found), no.wanted, no.hint)
            return float(default)
        if site_height_m is not None and height != site_height_m:
            problems.add(
                place, "wind height", repr(found),
                f"the wind_height of site.toml, {site_height_m:g} m",
                "Give it in one place only",
            )  # fmt: skip
        return height if isinstance(height, float) else float(default)
    return site_height_m if site_height_m is not None else float(default)


def _check_percent(
    entries: tuple[RawEntry[WeatherHour], ...], problems: ProblemCollector
) -> None:
    """Humidity written as a share would be read as air drier than any on Earth."""
    read = [(e, e.values.get("humidity_fraction")) for e in entries]
    shares = [(e, value) for e, value in read if isinstance(value, float)]
    if shares and max(value for _, value in shares) <= 0.01:
        entry, value = shares[0]
        found = f"{value * 100:g}, and nothing above 1"
        entry.refuse(problems, "humidity", found, "percent", "Write 55, not 0.55")
