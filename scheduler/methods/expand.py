"""From surfaces and clocks to the work list: every method's chain, crews, water."""

from collections.abc import Mapping

from models.errors import InputError
from models.records import (
    DryingHistory,
    HydrationHistory,
    SiteInput,
    Stretch,
    Surface,
    SurfaceEvents,
    SurfaceWork,
    Task,
    WorkList,
)
from scheduler.methods.compound import Compound
from scheduler.methods.figures import Figures, figures_for
from scheduler.methods.fogging import Fogging
from scheduler.methods.gangs import Gangs
from scheduler.methods.protocol import Case, Chain, Method
from scheduler.methods.requirements import conflicts
from scheduler.methods.sheeting import Sheeting
from scheduler.methods.shifts import crew_shifts
from scheduler.methods.site_calendar import SiteCalendar, site_calendar
from scheduler.methods.stretches import merge
from scheduler.methods.supplies import water_supplies
from scheduler.methods.surface_work import (
    Times,
    dry_weights,
    drying_curve,
    reserve_at_start_l_m2,
)
from scheduler.methods.travel import travel_min
from scheduler.methods.wet_covers import WetCovers

METHODS: Mapping[str, Method] = {
    "burlap_single": WetCovers(),
    "burlap_double": WetCovers(),
    "cotton_mats": WetCovers(),
    "plastic_sheet": Sheeting(),
    "sheet_over_burlap": Sheeting(),
    "compound_clear": Compound(),
    "compound_white": Compound(),
}
_FOGGING: Method = Fogging()


def expand(
    site_input: SiteInput,
    surfaces: tuple[Surface, ...],
    hydration: HydrationHistory,
    drying: DryingHistory,
) -> WorkList:
    """Give the solver everything there is to do and everyone there is to do it.

    Raises
    ------
    InputError
        If a method cannot be used where it is asked for, or ``[rates]`` names a
        figure that does not exist.
    """
    site, horizon = site_input.site, site_input.horizon
    table = figures_for(site.rates)
    problems = conflicts(site_input, surfaces, table)
    if problems:
        raise InputError(problems)
    shifts = crew_shifts(site, horizon)
    gangs = Gangs(site.crews, shifts)
    calendar = site_calendar(site, horizon, table["all"]["cool_morning"])
    events = {e.surface_id: e for e in hydration.events}
    return WorkList(
        site_name=site.name,
        timezone=site.timezone,
        horizon=horizon,
        surfaces=tuple(
            _surface_work(
                site_input, surface, events[surface.id], drying, table, gangs, calendar
            )
            for surface in surfaces
        ),
        shifts=shifts,
        supplies=water_supplies(site, horizon),
        zone_ids=tuple(zone.id for zone in site.zones),
        travel_min=travel_min(site),
        water_points={zone.id: zone.water_points for zone in site.zones},
        costs=site.costs,
        rest_min=round(60 * site.rules.rest_h),
        rewet_at_reserve_fraction=site.rules.rewet_at_reserve_fraction,
    )


def _surface_work(
    site_input: SiteInput,
    surface: Surface,
    events: SurfaceEvents,
    drying: DryingHistory,
    table: Mapping[str, Figures],
    gangs: Gangs,
    calendar: SiteCalendar,
) -> SurfaceWork:
    horizon, costs = site_input.horizon, site_input.site.costs
    times = Times(drying.grid, horizon)
    column = drying.surface_ids.index(surface.id)
    case = case_of(site_input, surface, events, drying, table, gangs, calendar)
    chain = METHODS[surface.method].chain(case)
    tasks = _in_horizon((*_FOGGING.chain(case).tasks, *chain.tasks), horizon.length_min)
    loss_l_m2_h = drying.cover_loss_l_m2_h[:, column]
    held_l_m2 = float(drying.held_l_m2[column])
    return SurfaceWork(
        surface_id=surface.id,
        label=surface.label,
        zone_id=surface.zone_id,
        area_m2=surface.area_m2,
        fresh=_fresh(case, chain),
        covered_from_min=case.covered_from_min,
        reserve_at_start_l_m2=reserve_at_start_l_m2(
            surface, loss_l_m2_h, held_l_m2, times
        ),
        curve=drying_curve(loss_l_m2_h, held_l_m2, times),
        tasks=tasks,
        rewet=_rewet(case, chain, tasks),
        ends_min=case.ends_min,
        weights=dry_weights(surface, costs, horizon),
        fresh_weights=dry_weights(surface, costs, horizon, costs.uncovered_factor),
    )


def case_of(
    site_input: SiteInput,
    surface: Surface,
    events: SurfaceEvents,
    drying: DryingHistory,
    table: Mapping[str, Figures],
    gangs: Gangs,
    calendar: SiteCalendar,
) -> Case:
    """Bring everything about one surface to the minutes of the horizon."""
    site, horizon = site_input.site, site_input.horizon
    times = Times(drying.grid, horizon)
    exposed_min = horizon.minute(surface.exposed_at)
    ready_min = (
        exposed_min
        if surface.face == "formed"
        else horizon.minute(getattr(events, surface.cover_from).expected_at)
    )
    curing_ends = events.curing_ends
    curing_end_min = horizon.minute(curing_ends.expected_at) if curing_ends else None
    soak_lead_h = next(
        (c.soak_lead_h for c in site.covers if c.kind == surface.method), 12.0
    )
    zone = next(zone for zone in site.zones if zone.id == surface.zone_id)
    point = next(p for p in site.water_points if p.id == zone.water_points[0])
    column = drying.surface_ids.index(surface.id)
    return Case(
        surface=surface,
        profile=site_input.profiles[surface.profile_id],
        rules=site.rules,
        costs=site.costs,
        units=site.units,
        table=table,
        calendar=calendar,
        gangs=gangs,
        horizon_min=horizon.length_min,
        placing_min=horizon.minute(surface.placing_starts_at),
        exposed_min=exposed_min,
        ready_min=max(exposed_min, ready_min),
        covered_from_min=(
            horizon.minute(surface.covered_at) if surface.covered_at else None
        ),
        curing_end_min=curing_end_min,
        ends_min=times.end_min if curing_end_min is None else curing_end_min,
        fog_needed=tuple(times.stretches(drying.fog_needed[:, column])),
        soak_lead_h=soak_lead_h,
        flow_l_min=point.flow_l_min,
    )


def _fresh(case: Case, chain: Chain) -> tuple[Stretch, ...]:
    """When the bare surface dries: too fast at first, at any rate once it is late.

    What a chain needs for itself, such as the wait between two coats, is not late.
    """
    if not case.needs_cover:
        return ()
    ends_min = min(case.ends_min, case.horizon_min)
    too_fast = merge(case.fog_needed, max(0, case.exposed_min), case.fog_until_min)
    late_min = max(case.late_min + chain.own_time_min, 0)
    late = (Stretch(from_min=late_min, until_min=max(late_min, ends_min)),)
    return merge((*too_fast, *late), 0, ends_min)


def _in_horizon(tasks: tuple[Task, ...], horizon_min: int) -> tuple[Task, ...]:
    """Keep the tasks that this plan can do, and whose forerunners it keeps.

    What is due only after the horizon is the next plan's; where dryness asks for it
    earlier it stays, but leaving it out has no price of its own.
    """
    kept: dict[str, Task] = {}
    for task in tasks:
        if task.earliest_min + task.duration_min > horizon_min:
            continue
        if any(link.task_id not in kept for link in task.after):
            continue
        if task.due_min > horizon_min:
            if task.effect == "none":
                continue
            task = task.model_copy(update={"missed_cost": 0.0})
        kept[task.id] = task
    return tuple(kept.values())


def _rewet(case: Case, chain: Chain, tasks: tuple[Task, ...]) -> Task | None:
    """Keep the rewet pattern only where its cover is on within the horizon."""
    if chain.rewet is None:
        return None
    kept = {task.id for task in tasks}
    linked = all(link.task_id in kept for link in chain.rewet.after)
    return chain.rewet if linked or not case.needs_cover else None
