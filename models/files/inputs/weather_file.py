"""The weather of a folder: ``weather.csv`` or one EPW file."""

from dataclasses import replace
from pathlib import Path

from models.errors import Place
from models.files.formats.open_file import rename_hint
from models.files.inputs.epw import read_epw
from models.files.inputs.weather_csv import CSV_NAME, read_weather_csv
from models.files.inputs.weather_hours import Span, WeatherHours, check_reach
from models.files.reading.local_time import LocalTime
from models.files.reading.problems import ProblemCollector


def read_weather(
    folder: Path,
    site_height_m: float | None,
    span: Span | None,
    local: LocalTime,
    problems: ProblemCollector,
) -> WeatherHours | None:
    """Read the one weather file and check that it reaches over a stretch.

    That it begins too late is no problem yet, see :class:`WeatherHours`. Without a
    stretch, as the week could not be read, an EPW file is left alone.
    """
    csv_path = folder / CSV_NAME
    names = sorted(p.name for p in folder.iterdir())
    years = [name for name in names if name.lower().endswith(".epw")]
    both = [*years, *([CSV_NAME] if csv_path.exists() else [])]
    if len(both) > 1:
        found = f"more than one weather file: {', '.join(both)}"
        problems.add(Place(both[0]), "", found, hint="Keep one of them")
        return None
    if not both:
        hint = rename_hint(folder, CSV_NAME) or "An EPW file will do as well"
        problems.add(Place(CSV_NAME), "", "file not found", hint=hint)
        return None
    if not years:
        weather = read_weather_csv(csv_path, site_height_m, local, problems)
    elif span:
        weather = read_epw(folder / years[0], site_height_m, span, local, problems)
    else:
        return None
    if weather and span and not years:
        return replace(weather, late=check_reach(weather, span, local, problems))
    return weather
