"""The weather of a folder: ``weather.csv`` or one EPW file."""

from pathlib import Path

from models.files.inputs.epw import read_epw
from models.files.inputs.weather_csv import CSV_NAME, read_weather_csv
from models.files.inputs.weather_hours import Span, WeatherHours, check_reach
from models.files.reading.gather import Gatherer, Place
from models.files.reading.local_time import LocalTime
from models.files.reading.words import did_you_mean


def read_weather(
    folder: Path,
    site_height_m: float | None,
    span: Span | None,
    local: LocalTime,
    gather: Gatherer,
) -> WeatherHours | None:
    """Read the one weather file and check that it reaches over a stretch.

    Without a stretch, as the week could not be read, an EPW file is left alone.
    """
    csv_path = folder / CSV_NAME
    names = sorted(p.name for p in folder.iterdir())
    years = [name for name in names if name.lower().endswith(".epw")]
    both = [*years, *([CSV_NAME] if csv_path.exists() else [])]
    if len(both) > 1:
        gather.add(
            Place(both[0]), "", f"{' and '.join(both[1:])} as well", "one weather file"
        )
        return None
    if not both:
        gather.add(
            Place(CSV_NAME), "", "no such file", f"{CSV_NAME} or one EPW file",
            did_you_mean(CSV_NAME, names),
        )  # fmt: skip
        return None
    if not years:
        weather = read_weather_csv(csv_path, site_height_m, local, gather)
    elif span:
        weather = read_epw(folder / years[0], site_height_m, span, local, gather)
    else:
        return None
    if weather and span and not years:
        check_reach(weather, span, local, gather)
    return weather
