"""Clocks made by hand, so that a chain can be tested without the weather."""

from datetime import UTC, datetime, timedelta

import numpy as np

from models.records import (
    Crew,
    DryingHistory,
    EventWindow,
    Grid,
    HydrationHistory,
    MethodKey,
    SiteInput,
    Surface,
    SurfaceEvents,
    Task,
    WorkList,
)
from scheduler.methods.case.cases import cases_of
from scheduler.methods.case.method_table import methods
from scheduler.methods.case.protocol import Case
from scheduler.methods.expand import expand
from scheduler.methods.surfaces import planning_grid, surfaces_of
from tests.builders import MONDAY, site_input

#: Methods that some surface of a site can have.
USABLE: tuple[MethodKey, ...] = tuple(m for m, of in methods().items() if of.family)
#: Of these, what a plain slab can have; the rest is for forms.
FOR_TOPS: tuple[MethodKey, ...] = tuple(
    m for m in USABLE if not methods()[m].fits.in_forms
)

#: Hours after the end of placing.
SHEEN_GONE_H, TAKES_COVER_H, BEARS_PEOPLE_H = 2, 3, 6


def hour(hours: float) -> datetime:
    """Instant so many hours after Monday 06:00 local, minute 0 of the site."""
    return MONDAY + timedelta(hours=hours)


def utc(year: int, month: int, day: int, hours: int = 0, minutes: int = 0) -> datetime:
    return datetime(year, month, day, hours, minutes, tzinfo=UTC)


def window(at: datetime) -> EventWindow:
    return EventWindow(
        earliest_at=at - timedelta(minutes=30),
        expected_at=at,
        latest_at=at + timedelta(minutes=60),
    )


def hydration(
    surfaces: tuple[Surface, ...],
    grid: Grid,
    curing_h: float | None = 72,
    concrete_c: float = 20,
) -> HydrationHistory:
    """Every surface at one temperature; curing so long after it is exposed."""
    shape = (grid.steps, len(surfaces))
    flat = np.full(shape, concrete_c)
    return HydrationHistory(
        grid=grid,
        surface_ids=tuple(s.id for s in surfaces),
        surface_temperature_c=flat,
        core_temperature_c=flat,
        mean_temperature_c=flat,
        equivalent_age_h=np.zeros(shape),
        strength_fraction=np.zeros(shape),
        events=tuple(_events(s, curing_h) for s in surfaces),
    )


def _events(surface: Surface, curing_h: float | None) -> SurfaceEvents:
    placed_at = surface.placing_ends_at
    return SurfaceEvents(
        surface_id=surface.id,
        sheen_gone=window(placed_at + timedelta(hours=SHEEN_GONE_H)),
        takes_cover=window(placed_at + timedelta(hours=TAKES_COVER_H)),
        bears_people=window(placed_at + timedelta(hours=BEARS_PEOPLE_H)),
        initial_set=window(placed_at + timedelta(hours=SHEEN_GONE_H)),
        final_set=window(placed_at + timedelta(hours=BEARS_PEOPLE_H)),
        curing_ends=(
            None
            if curing_h is None
            else window(surface.exposed_at + timedelta(hours=curing_h))
        ),
        curing_rule="so many hours, for the test",
    )


def drying(
    surfaces: tuple[Surface, ...],
    grid: Grid,
    loss_l_m2_h: float = 0.1,
    fog: tuple[tuple[datetime, datetime], ...] = (),
) -> DryingHistory:
    """One loss everywhere and always; fog between the instants given."""
    shape = (grid.steps, len(surfaces))
    fog_needed = np.zeros(shape, dtype=np.bool_)
    for begins_at, ends_at in fog:
        fog_needed[grid.step(begins_at) : grid.step(ends_at)] = True
    return DryingHistory(
        grid=grid,
        surface_ids=tuple(s.id for s in surfaces),
        fresh_rate_kg_m2_h=np.full(shape, 0.3),
        cover_loss_l_m2_h=np.full(shape, loss_l_m2_h),
        held_l_m2=np.asarray([s.held_l_m2 for s in surfaces]),
        held_steps_l_m2=np.full(shape, [s.cover.held_l_m2 for s in surfaces]),
        fog_needed=fog_needed,
    )


def operated(given: SiteInput) -> SiteInput:
    """The same site with somebody by day and by night who may run a boiler."""
    crews = (
        *given.site.crews,
        Crew(
            id="boiler", name="Boiler watch", people=1, skills=("steam_operator",),
            home_zone="A", shifts=("day", "night"),
        ),
    )  # fmt: skip
    where = given.site.model_copy(update={"crews": crews})
    return given.model_copy(update={"site": where})


def ruled(given: SiteInput, **fields: object) -> SiteInput:
    """The same site under a rule with some fields changed."""
    rule = given.profiles["seven_days"].model_copy(update=fields)
    return given.model_copy(update={"profiles": {"seven_days": rule}})


def frosty(given: SiteInput, *at_h: int, air_c: float = -2) -> SiteInput:
    """The same site with frost in single hours, counted from minute 0."""
    hours = tuple(
        hour_.model_copy(update={"air_temperature_c": air_c})
        if (hour_.at - MONDAY) / timedelta(hours=1) in at_h
        else hour_
        for hour_ in given.weather.hours
    )
    weather = given.weather.model_copy(update={"hours": hours})
    return given.model_copy(update={"weather": weather})


def work_of(
    given: SiteInput | None = None,
    curing_h: float | None = 72,
    fog: tuple[tuple[datetime, datetime], ...] = (),
    loss_l_m2_h: float = 0.1,
) -> WorkList:
    """Expand a site on clocks made by hand."""
    given = given or site_input()
    surfaces, grid = surfaces_of(given), planning_grid(given)
    return expand(
        given,
        surfaces,
        hydration(surfaces, grid, curing_h),
        drying(surfaces, grid, loss_l_m2_h, fog),
    )


def case(
    given: SiteInput | None = None,
    index: int = 0,
    curing_h: float | None = 72,
    fog: tuple[tuple[datetime, datetime], ...] = (),
) -> Case:
    """Case of one surface of a site on clocks made by hand."""
    given = given or site_input()
    surfaces, grid = surfaces_of(given), planning_grid(given)
    clocks = hydration(surfaces, grid, curing_h), drying(surfaces, grid, fog=fog)
    return cases_of(given, *clocks).of(surfaces[index])


def by_name(work: WorkList, surface_id: str = "P1-top") -> dict[str, Task]:
    """Tasks of a surface by what follows its id, the rewet pattern among them."""
    surface = next(s for s in work.surfaces if s.surface_id == surface_id)
    tasks = (*surface.tasks, *([surface.rewet] if surface.rewet else []))
    return {task.id.removeprefix(f"{surface_id}/"): task for task in tasks}


def duties(work: WorkList, surface_id: str = "P1-top") -> dict[str, Task]:
    """The same without the looks of every shift."""
    named = by_name(work, surface_id)
    return {name: t for name, t in named.items() if "look/" not in name}
