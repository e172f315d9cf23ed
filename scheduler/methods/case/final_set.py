"""When one surface sets, asked before the clocks of the whole site run."""

from datetime import datetime, timedelta

from models.drying.surroundings import surroundings
from models.hydration import clock
from models.records import Grid, SiteInput, Surface

_STEP_MIN = 10
#: Ordinary concrete sets in a day or two even in the cold; beyond it the last pace goes
#: on.
_WATCHED_H = 72


def final_set_at(surface: Surface, site_input: SiteInput) -> datetime:
    """Give the expected final set of a surface as planned so far, by the clock."""
    hours = site_input.weather.hours
    first_at, last_at = hours[0].at, hours[-1].at
    placed_h = int((surface.placing_ends_at - first_at) / timedelta(hours=1))
    starts_h = min(max(placed_h, 0), len(hours) - 1)
    starts_at = first_at + timedelta(hours=starts_h)
    left_h = int((last_at - starts_at) / timedelta(hours=1)) + 1
    grid = Grid(starts_at, _STEP_MIN, min(left_h, _WATCHED_H) * 60 // _STEP_MIN)
    around = surroundings([surface], site_input, grid)
    (events,) = clock.run([surface], site_input, around, grid).events
    return events.final_set.expected_at
