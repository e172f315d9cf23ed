"""``[rates]``: the site's own productivity figures, in m² per worker-hour.

``"burlap_double.lay" = 25`` and ``burlap_double.lay = 25`` mean the same. Which rates
there are is known to the method table, not here.
"""

from collections.abc import Iterator, Mapping
from math import inf, nan

from models.files.formats.toml_file import TomlFile
from models.files.formats.toml_positions import Path
from models.files.reading.gather import Gatherer
from models.files.reading.words import say

_WANTED = "a number above 0 [m² per worker-hour]"


def read_rates(file: TomlFile, gather: Gatherer) -> dict[str, float]:
    """Read the rates that are there, under dotted names."""
    table = file.document.get("rates", {})
    if not isinstance(table, dict):
        gather.add(file.place("rates"), "rates", say(table), "a table [rates]")
        return {}
    rates: dict[str, float] = {}
    for path, value in _leaves(("rates",), table):
        name = ".".join(str(part) for part in path[1:])
        rate = _number(value)
        if 0 < rate < inf:
            rates[name] = rate
        else:
            gather.add(file.place(*path), f"[rates] {name}", say(value), _WANTED)
    return rates


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
