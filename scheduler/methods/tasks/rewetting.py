"""Filling a cover again: a pattern, repeated as often as the roster wants."""

from models.records import Link, Material, Task
from scheduler.methods.case.protocol import Case, window
from scheduler.methods.tasks.cautions import cautions
from scheduler.methods.tasks.labour import Job, labour, slowdown


def rewet_pattern(
    case: Case,
    covered_min: int,
    laid: tuple[Task, ...],
    title: str,
    steps: tuple[str, ...],
) -> Task | None:
    """Give the pattern of a rewet; None where the window is too short for one.

    The dose fills the cover from empty at least. The pace is that of daylight: one
    pattern serves day and night. So that any gang can do it, it asks for no more
    people than the smallest one has.
    """
    cover = case.surface.cover
    if not cover.rewettable or cover.held_l_m2 <= 0:
        return None
    job = Job(
        rates_m2_h=(case.figures["rewet"],),
        people=case.figures.people("rewet_people"),
        target_min=case.common["visit_target"],
        dose_l_m2=max(case.figures["rewet_dose"], cover.held_l_m2),
    )
    work = labour(
        case,
        job,
        case.surface.area_m2,
        slowdown(case, None),
        case.gangs.smallest("labourer"),
    )
    until_min = min(case.ends_min, case.horizon_min)
    if max(0, covered_min) + work.duration_min > until_min:
        return None
    when = window(covered_min, until_min, until_min, work.duration_min)
    litres_l = work.water.litres_l if work.water else 0.0
    return Task(
        id=case.task_id("rewet"),
        surface_id=case.surface.id,
        kind="rewet",
        title=title,
        earliest_min=when.earliest_min,
        due_min=when.due_min,
        latest_min=when.latest_min,
        duration_min=work.duration_min,
        people=work.people,
        effect="wet",
        water=work.water,
        after=tuple(Link(task_id=task.id) for task in laid[-1:]),
        materials=(Material(name="water", amount=case.water(litres_l)),),
        tools=("50 m hose", "rose nozzle", "lamp"),
        steps=steps,
        cautions=cautions("slips", "electrics"),
        log_fields=("time", "condition found", "area wetted", "litres", "initials"),
    )
