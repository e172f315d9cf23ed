"""Times and amounts as people on the site say them."""

from collections.abc import Iterable
from datetime import datetime

from models.local_clock import WeekClock
from models.quantities import Units, show
from models.records import TASK_KINDS, CrewShift, Horizon, Task, WaterSupply
from scheduler.solver.problem.problem import Job

_MOST = 3  # names in a row


class SiteWords:
    """Says minutes in the site's local time and amounts in the site's units."""

    def __init__(self, horizon: Horizon, timezone: str, units: Units = "si") -> None:
        self.clock, self.units = WeekClock(timezone, horizon), units

    def local(self, minute: int) -> datetime:
        """Local date and time of a minute."""
        return self.clock.local(minute)

    def at(self, minute: int) -> str:
        """Weekday and time: ``Mon 14:20``."""
        return self.clock.words(minute)

    def until(self, start: int, end: int) -> str:
        """From and to, the weekday once where it is the same."""
        return self.clock.span(start, end)

    def litres(self, units: float) -> str:
        """Say an amount of water, counted in millionths of a litre."""
        return show("volume", units / 1e6, self.units)

    def flow(self, units: float) -> str:
        """Say a flow, counted in millionths of a litre a minute."""
        return show("flow", units / 1e6, self.units)


def less(amount: str, wanted: str) -> str:
    """Say an amount that is not enough so that it does not read as if it were."""
    return f"a little less than {amount}" if amount == wanted else amount


def crew(shift: CrewShift) -> str:
    """Name of a crew, or its id where it has none."""
    return shift.crew_name or shift.crew_id


def doing(task: Task) -> str:
    """Name a piece of work as the subject of a sentence."""
    return TASK_KINDS[task.kind].doing


def takes(job: Job) -> str:
    """Say how long a piece of work takes."""
    return f"{doing(job.task)} takes {job.duration} min"


def supply(point: WaterSupply) -> str:
    """Name of a water point, or its id where it has none."""
    return point.name or point.id


def listed(names: Iterable[str], what: str = "") -> str:
    """Join a few names; of many the rest is counted, as more of what they are."""
    known = list(dict.fromkeys(names))
    if len(known) > _MOST:
        more = f"{len(known) - _MOST + 1} more {what}".rstrip()
        known = [*known[: _MOST - 1], more]
    return ", ".join(known)
