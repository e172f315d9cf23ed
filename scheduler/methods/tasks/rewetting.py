"""Filling a cover again: a pattern, repeated as often as the roster wants."""

from models.records import Task
from scheduler.methods.case.protocol import Case, Window, links
from scheduler.methods.tasks.builder import Brief, build_task, water_brought
from scheduler.methods.tasks.covering import last_of
from scheduler.methods.tasks.labour import Workload, labour, slowdown


def rewet_pattern(
    case: Case,
    covered_min: int,
    laid: tuple[Task, ...],
    title: str,
    steps: tuple[str, ...],
) -> Task | None:
    """Give the pattern of a re-wetting; None where the window is too short for one.

    The dose fills the cover from empty at least. The pace is that of daylight: one
    pattern serves day and night. So that any gang can do it, it asks for no more
    people than the smallest one has.

    Parameters
    ----------
    covered_min : int
        From when there is a cover to wet. [min of the horizon]
    laid : tuple of Task
        What lays it; empty where it lies there already.
    """
    cover = case.surface.cover
    if not cover.rewettable or cover.held_l_m2 <= 0:
        return None
    job = Workload(
        rates_m2_h=(case.figures["rewet"],),
        people=case.figures.people("rewet_people"),
        target_min=case.common["visit_target"],
        dose_l_m2=max(case.figures["rewet_dose"], cover.held_l_m2),
    )
    smallest = case.gangs.smallest("labourer")
    work = labour(case, job, case.surface.area_m2, slowdown(case, None), smallest)
    until_min = min(case.ends_min, case.horizon_min)
    if max(0, covered_min) + work.duration_min > until_min:
        return None
    brief = Brief(
        title=title,
        steps=steps,
        hazards=("slips", "electrics"),
        tools=("50 m hose", "rose nozzle", "lamp"),
        log_fields=("time", "condition found", "area wetted", "litres", "initials"),
    )
    return build_task(
        case,
        "rewet",
        "rewet",
        brief,
        Window(covered_min, until_min, until_min),
        work,
        effect="wet",
        after=links(last_of(laid)),
        materials=water_brought(work),
    )
