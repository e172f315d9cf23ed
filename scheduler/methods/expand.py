"""From surfaces and clocks to the work list: chains, crews, water, covers."""

from collections.abc import Collection, Iterator, Mapping

from models.errors import InputError, Problem
from models.records import (
    AutomaticFlow,
    DryingCurve,
    DryingHistory,
    HydrationHistory,
    SiteInput,
    Stretch,
    Surface,
    SurfaceWork,
    Task,
    WorkList,
)
from scheduler.methods.case.cases import Cases, cases_of
from scheduler.methods.case.cover_needs import cover_needs, cover_supplies
from scheduler.methods.case.figures import refused_rates
from scheduler.methods.case.grid_times import (
    dry_weights,
    drying_curve,
    in_first_cover_l_m2_h,
    reserve_at_start_l_m2,
)
from scheduler.methods.case.held import NONE_HELD, Held
from scheduler.methods.case.protocol import Case, Chain
from scheduler.methods.chains.registry import FOGGING
from scheduler.methods.chains.stages import joined, stage_chains
from scheduler.methods.resources.hours_limits import hours_limits
from scheduler.methods.resources.stretches import merge
from scheduler.methods.resources.timer_water import connected, timers_beyond_water
from scheduler.methods.resources.travel import travel_min
from scheduler.methods.resources.water import water_supplies
from scheduler.methods.warnings.conflicts import conflicts

#: Parts of a site that may be stand-ins where the forecast, or the water, is asked.
_NOT_WATER = frozenset({"crews"})
_NOT_WEATHER = _NOT_WATER | {"water"}


def expand(
    site_input: SiteInput,
    surfaces: tuple[Surface, ...],
    hydration: HydrationHistory,
    drying: DryingHistory,
    held: Mapping[str, Held] = NONE_HELD,
) -> WorkList:
    """Give the solver everything there is to do and everyone there is to do it.

    Covers of the surfaces that ``held`` names stay on as it says.

    Raises
    ------
    InputError
        With every method that cannot be used where it is asked for, every timer that
        wants more water than there is, and every figure of ``[rates]`` there is not.
    """
    cases = cases_of(site_input, hydration, drying, held)
    works, problems = _works(cases, surfaces)
    if problems:
        raise InputError(problems)
    return _work_list(cases, works)


def dried_anew(
    site_input: SiteInput,
    surfaces: tuple[Surface, ...],
    hydration: HydrationHistory,
    drying: DryingHistory,
    planned: tuple[SurfaceWork, ...],
) -> WorkList:
    """Give work that was planned before the crews, water and drying of today's folder.

    It refuses nothing: what people hold is played, whatever speaks against it now.
    """
    cases = cases_of(site_input, hydration, drying)
    minute, today = site_input.horizon.minute, {one.id: one for one in surfaces}
    works = []
    for work in planned:
        surface = today[work.surface_id]
        curve, reserve_l_m2 = _drying(cases, surface)
        covered_at = surface.covered_at
        dries = {
            "curve": curve,
            "reserve_at_start_l_m2": reserve_l_m2,
            "covered_from_min": minute(covered_at) if covered_at else None,
        }
        works.append(work.model_copy(update=dries))
    return _work_list(cases, tuple(works))


def _work_list(cases: Cases, works: tuple[SurfaceWork, ...]) -> WorkList:
    site, horizon = cases.site_input.site, cases.site_input.horizon
    automatic = [flow for work in works for flow in work.automatic]
    return WorkList(
        site_name=site.name,
        timezone=site.timezone,
        horizon=horizon,
        surfaces=works,
        shifts=cases.gangs.shifts,
        supplies=water_supplies(site, horizon, automatic),
        covers=cover_supplies(site),
        zone_ids=tuple(zone.id for zone in site.zones),
        travel_min=travel_min(site),
        water_points={zone.id: zone.water_points for zone in site.zones},
        costs=site.costs,
        heat_bans=cases.gangs.heat_bans,
        rest_min=round(60 * site.rules.rest_h),
        hours_limits=hours_limits(site, horizon, cases.gangs.shifts),
        rewet_at_reserve_fraction=site.rules.rewet_at_reserve_fraction,
        units=site.units,
    )


def refusals(
    site_input: SiteInput,
    surfaces: tuple[Surface, ...],
    hydration: HydrationHistory,
    drying: DryingHistory,
    stand_ins: Collection[str],
) -> list[Problem]:
    """Give what :func:`expand` would refuse of a site, and no consequence of stand-ins.

    Parameters
    ----------
    stand_ins : collection of str
        Parts of the site that could not be read.
    """
    cases = cases_of(site_input, hydration, drying)
    return _works(cases, surfaces, frozenset(stand_ins))[1]


def _works(
    cases: Cases, surfaces: tuple[Surface, ...], stand_ins: frozenset[str] = frozenset()
) -> tuple[tuple[SurfaceWork, ...], list[Problem]]:
    """Give the work of every surface that may be cured as asked, and what may not."""
    site_input = cases.site_input
    problems = refused_rates(site_input)
    allowed = []
    for surface in surfaces:
        against = conflicts(cases, surface, forecast=stand_ins <= _NOT_WEATHER)
        problems += against
        if not against:
            allowed.append(surface)
    if not stand_ins <= _NOT_WATER:
        return (), problems
    unfed = (_surface_work(cases, surface) for surface in allowed)
    works = connected(site_input, unfed)
    automatic = [flow for work in works for flow in work.automatic]
    return works, [*problems, *timers_beyond_water(site_input, automatic)]


def _surface_work(cases: Cases, surface: Surface) -> SurfaceWork:
    horizon, costs = cases.site_input.horizon, cases.site_input.site.costs
    case = cases.of(surface)
    stages = stage_chains(case)
    chain = joined(stages)
    fog = FOGGING.chain(case)
    fogged = () if case.cured_unseen else fog.tasks
    tasks = _in_horizon((*fogged, *chain.tasks), horizon.length_min)
    needs = tuple(
        cover_needs(stages, cases.site_input.site, {task.id for task in tasks})
    )
    soaks = {need.soaked_by for need in needs}
    tasks = tuple(t for t in tasks if t.kind != "soak_ahead" or t.id in soaks)
    curve, reserve_l_m2 = _drying(cases, surface)
    return SurfaceWork(
        surface_id=surface.id,
        label=surface.label,
        zone_id=surface.zone_id,
        area_m2=surface.area_m2,
        fresh=_fresh(case, chain),
        covered_from_min=case.covered_from_min,
        reserve_at_start_l_m2=reserve_l_m2,
        curve=curve,
        tasks=tasks,
        rewet=_rewet(chain, tasks),
        ends_min=case.ends_min,
        weights=dry_weights(surface, costs, horizon),
        fresh_weights=dry_weights(surface, costs, horizon, costs.uncovered_factor),
        automatic=tuple(_in_time(chain.automatic, horizon.length_min)),
        cover_needs=needs,
    )


def _drying(cases: Cases, surface: Surface) -> tuple[DryingCurve | None, float]:
    """Say how a surface's cover dries, and what it holds when the plan begins."""
    column = cases.column(surface)
    held_l_m2 = float(cases.drying.held_l_m2[column])
    loss_l_m2_h = in_first_cover_l_m2_h(
        cases.drying.cover_loss_l_m2_h[:, column],
        cases.drying.held_steps_l_m2[:, column],
        held_l_m2,
    )
    reserve = reserve_at_start_l_m2(surface, loss_l_m2_h, held_l_m2, cases.times)
    return drying_curve(loss_l_m2_h, held_l_m2, cases.times), reserve


def _fresh(case: Case, chain: Chain) -> tuple[Stretch, ...]:
    """Give when the bare surface dries: too fast at first, then once its cover is late.

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
            if not task.protects:
                continue
            task = task.model_copy(update={"missed_cost": 0.0})
        kept[task.id] = task
    return tuple(kept.values())


def _in_time(
    flows: tuple[AutomaticFlow, ...], horizon_min: int
) -> Iterator[AutomaticFlow]:
    """Cut what a timer draws to the horizon."""
    for flow in flows:
        from_min, until_min = max(0, flow.from_min), min(horizon_min, flow.until_min)
        if from_min < until_min:
            yield flow.model_copy(update={"from_min": from_min, "until_min": until_min})


def _rewet(chain: Chain, tasks: tuple[Task, ...]) -> Task | None:
    """Keep the rewet pattern only where its cover is on within the horizon."""
    if chain.rewet is None:
        return None
    kept = {task.id for task in tasks}
    linked = all(link.task_id in kept for link in chain.rewet.after)
    return chain.rewet if linked else None
