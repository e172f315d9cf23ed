"""When it is warm enough for open water: between the cold stretches of the forecast."""

from collections.abc import Iterator

from models.records import Stretch
from scheduler.methods.case.protocol import Case


def mild_parts(case: Case, from_min: int, until_min: int) -> Iterator[Stretch]:
    """Give the parts of a stretch in which the air suits the surface's method."""
    start_min = from_min
    for cold in case.colder_than(case.figures["min_air"]):
        if cold.until_min <= start_min:
            continue
        end_min = min(cold.from_min, until_min)
        if start_min < end_min:
            yield Stretch(from_min=start_min, until_min=end_min)
        start_min = cold.until_min
    if start_min < until_min:
        yield Stretch(from_min=start_min, until_min=until_min)
