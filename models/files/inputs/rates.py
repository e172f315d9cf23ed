"""``[rates]``: the site's own productivity figures, in m² per worker-hour.

``"burlap_double.lay" = 25`` and ``burlap_double.lay = 25`` mean the same. Which rates
there are is known to the method table, not here.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from math import inf, nan

from models.errors import Place
from models.files.formats.toml_file import TomlFile
from models.files.formats.toml_positions import Path
from models.files.reading.problems import ProblemCollector
from models.wording import say


@dataclass(frozen=True)
class SiteRates:
    """The site's own figures under dotted names, and where each stands."""

    figures: Mapping[str, float] = field(default_factory=dict)
    places: Mapping[str, Place] = field(default_factory=dict)


def read_rates(file: TomlFile, problems: ProblemCollector) -> SiteRates:
    """Read the rates that are there."""
    table = file.document.get("rates", {})
    if not isinstance(table, dict):
        problems.add(file.place("rates"), "rates", say(table), "a table [rates]")
        return SiteRates()
    rates: dict[str, float] = {}
    places: dict[str, Place] = {}
    for path, value in _leaves(("rates",), table):
        name = ".".join(str(part) for part in path[1:])
        rate = _number(value)
        if 0 < rate < inf:
            rates[name], places[name] = rate, file.place(*path)
        else:
            wanted = "a number above 0"
            problems.add(file.place(*path), f"[rates] {name}", say(value), wanted)
    return SiteRates(rates, places)


def _leaves(path: Path, table: Mapping[str, object]) -> Iterator[tuple[Path, object]]:
    for key, value in table.items():
        if isinstance(value, dict):
            yield from _leaves((*path, key), value)
        else:
            yield (*path, key), value


def _number(value: object) -> float:
    if isinstance(value, int | float) and not isinstance(value, bool):
        return float(value)
    return nan
