"""What every curing method is: something that turns a surface into tasks."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import NamedTuple, Protocol

from models.drying.covers import soak_lead_min
from models.local_clock import WeekClock
from models.quantities import Units, show, show_volume
from models.records import (
    AutomaticFlow,
    CoverKind,
    CoverStock,
    Link,
    Mix,
    Pour,
    Profile,
    Rules,
    SiteInput,
    Stretch,
    Surface,
    Task,
    Weather,
)
from models.records.site import Costs
from scheduler.methods.case.figures import Figures
from scheduler.methods.case.held import NOT_HELD, Held
from scheduler.methods.resources.calendar import SiteCalendar
from scheduler.methods.resources.gangs import Gangs
from scheduler.methods.resources.stretches import merge

#: Of covers the site lists no stock of: overnight. Common practice, no source. [min]
_SOAK_LEAD_MIN = 12 * 60


@dataclass(frozen=True)
class Stage:
    """A later cover of a surface, as its method needs to know it.

    Attributes
    ----------
    number : int
        1 for the first change of the cover, and so on.
    lifts : str
        What lies there until then, in words.
    lift_rates_m2_h : tuple of float
        How fast that comes off. [m² per worker-hour]
    shut_off : str
        What stops the water before, where it stands or runs there; "" else.
    reason : str
        Why the cover is changed, in words.
    after : Task or None
        What laid what lies there; None if it lies there already.
    first : Task or None
        What laid the first cover of all, from which on something lies there.
    """

    number: int
    lifts: str
    lift_rates_m2_h: tuple[float, ...]
    shut_off: str
    reason: str
    after: Task | None
    first: Task | None


@dataclass(frozen=True)
class Case:
    """One surface with all that its method needs to know, in horizon minutes.

    Attributes
    ----------
    placing_min, exposed_min : int
        Placing starts; the surface needs care.
    ready_min : int
        The cover is counted on to go on: the surface's own event, or striking.
    covered_from_min : int or None
        Reported as covered.
    curing_end_min : int or None
        End of curing where it was reached in the planning grid.
    ends_min : int
        The same, or the end of the grid.
    fog_needed : tuple of Stretch
        Bare and drying too fast.
    stocks : mapping
        Kind of cover to what the site owns of it, where it lists that.
    flow_l_min : float
        Of the nearest water point. [L/min]
    water_point_id : str
        Of the nearest water point.
    clock : WeekClock
        For times in words.
    weather : Weather
        Forecast, and what was measured before it.
    later_min : tuple of int
        When each of the surface's later stages starts.
    steam_min : tuple of int
        Steam on, hold reached, hold over, cycle over; empty without steam.
    held : Held
        When its cover must stay on.
    stage : Stage or None
        Given where this is not the surface's first cover. Then ``ready_min`` is when
        the change is planned, and ``ends_min`` of any but the last cover is the next
        change.
    """

    surface: Surface
    profile: Profile
    mix: Mix
    rules: Rules
    costs: Costs
    units: Units
    table: Mapping[str, Figures]
    calendar: SiteCalendar
    gangs: Gangs
    horizon_min: int
    placing_min: int
    exposed_min: int
    ready_min: int
    covered_from_min: int | None
    curing_end_min: int | None
    ends_min: int
    fog_needed: tuple[Stretch, ...]
    stocks: Mapping[CoverKind, CoverStock]
    flow_l_min: float
    water_point_id: str
    clock: WeekClock
    weather: Weather
    later_min: tuple[int, ...] = ()
    steam_min: tuple[int, ...] = ()
    held: Held = NOT_HELD
    stage: Stage | None = None

    @property
    def figures(self) -> Figures:
        """Figures of the surface's own method, in the units of the method table."""
        return self.table[self.surface.method]

    @property
    def common(self) -> Figures:
        """Figures that all methods share."""
        return self.table["all"]

    @property
    def cover_name(self) -> str:
        """The cover of this stage in the one or two words a gang uses."""
        return self.surface.cover.name

    @property
    def soak_lead_min(self) -> int:
        """How long before use its cover goes into water; 0 where none of it does."""
        if not self.surface.cover.soaked:
            return 0
        stock = self.stocks.get(self.surface.cover.kind)
        return _SOAK_LEAD_MIN if stock is None else soak_lead_min(stock)

    @property
    def needs_cover(self) -> bool:
        """Whether nothing is reported to lie on it yet."""
        return self.covered_from_min is None

    @property
    def cured_unseen(self) -> bool:
        """Whether curing is over before the face is bare, or before the plan begins."""
        return self.needs_cover and self.ends_min <= max(0, self.exposed_min)

    @property
    def late_min(self) -> int:
        """Minute from which a surface still bare counts as dry in any weather."""
        return self.ready_min + self.rules.uncovered_grace_min

    @property
    def fog_until_min(self) -> int:
        """Minute until which fog may stand in for the cover; none on film."""
        sealed = self.surface.cover_from == "sheen_gone"
        return self.ready_min if sealed else self.late_min

    def colder_than(self, limit_c: float) -> tuple[Stretch, ...]:
        """Stretches of hours with air forecast below a temperature."""
        return self._hours_of_air(lambda air_c: air_c < limit_c)

    def no_warmer_than(self, limit_c: float) -> tuple[Stretch, ...]:
        """Stretches of hours with air forecast at a temperature or below."""
        return self._hours_of_air(lambda air_c: air_c <= limit_c)

    def _hours_of_air(self, asked: Callable[[float], bool]) -> tuple[Stretch, ...]:
        minute = self.clock.horizon.minute
        found = (
            Stretch(from_min=minute(hour.at), until_min=minute(hour.at) + 60)
            for hour in self.weather.hours
            if asked(hour.air_temperature_c)
        )
        return merge(found, 0, self.horizon_min)

    def mild_parts(self, from_min: int, until_min: int) -> Iterator[Stretch]:
        """Yield when the air suits the method: between hours below its ``min_air``."""
        start_min = from_min
        for cold in self.colder_than(self.figures["min_air"]):
            if cold.until_min <= start_min:
                continue
            end_min = min(cold.from_min, until_min)
            if start_min < end_min:
                yield Stretch(from_min=start_min, until_min=end_min)
            start_min = cold.until_min
        if start_min < until_min:
            yield Stretch(from_min=start_min, until_min=until_min)

    def task_id(self, name: str) -> str:
        """Id of a task from its name within the stage, the same on every run."""
        stage = f"change-{self.stage.number}/" if self.stage else ""
        return f"{self.surface.id}/{stage}{name}"

    def area(self, area_m2: float) -> str:
        """Area in the site's units."""
        return show("area", area_m2, self.units)

    def degrees(self, temperature_c: float) -> str:
        """Temperature in the site's units."""
        return show("temperature", temperature_c, self.units)

    def kelvin(self, difference_k: float) -> str:
        """Difference of temperatures in the site's units."""
        return show("temperature difference", difference_k, self.units)

    def kelvin_tenths(self, difference_k: float) -> str:
        """Difference of temperatures to a tenth, where a limit is as fine."""
        return show("exact temperature difference", difference_k, self.units)

    def water(self, litres_l: float) -> str:
        """Volume in the site's units; small ones to a tenth."""
        return show_volume(litres_l, self.units)


@dataclass(frozen=True)
class Chain:
    """What a method asks for on one surface.

    Attributes
    ----------
    covered_min : int
        From here on the cover is expected to be on.
    own_time_min : int
        What the chain itself needs between the surface being ready and the start of
        the task that covers it, as between two coats; not counted as late.
    laid : Task or None
        With its end the cover is on; None if it lies there already.
    automatic : tuple of AutomaticFlow
        What a system on a timer draws, whoever looks at it.
    """

    tasks: tuple[Task, ...]
    covered_min: int
    rewet: Task | None = None
    own_time_min: int = 0
    laid: Task | None = None
    automatic: tuple[AutomaticFlow, ...] = ()


class Method(Protocol):
    """One family of methods."""

    def chain(self, case: Case) -> Chain:
        """Give the tasks of one stage of a surface, from bare to bare again."""
        ...


#: Adds what is known of a surface before its clocks run: planned changes of its cover
#: (``later``), a steam cycle. It gives other surfaces back as they are.
Planned = Callable[[Surface, Pour, SiteInput], Surface]


class Window(NamedTuple):
    """When a task may be done, in minutes of the horizon.

    Attributes
    ----------
    earliest_min : int
        It may not start before.
    due_min : int
        Ending after it is late.
    latest_min : int
        Ending after it is too late: the task is then missed.
    """

    earliest_min: int
    due_min: int
    latest_min: int

    def fitted(self, duration_min: int) -> "Window":
        """Put ends off until the work fits; nothing begins before the horizon."""
        start_min = max(0, self.earliest_min)
        due_min = max(self.due_min, start_min + duration_min)
        return Window(start_min, due_min, max(self.latest_min, due_min))


def end_min(task: Task | None) -> int:
    """Minute at which a task can be done at the soonest; 0 for none."""
    return task.earliest_min + task.duration_min if task else 0


def links(task: Task | None) -> tuple[Link, ...]:
    """Follow a task, if there is one."""
    return (Link(task_id=task.id),) if task else ()


def lies_by(case: Case, laid: tuple[Task, ...]) -> Task | None:
    """Give the task with whose end some cover lies there; None if one does already.

    At a change of cover that is not made, the one before stays and wants its care.
    """
    if case.stage:
        return case.stage.first
    return laid[-1] if laid else None
