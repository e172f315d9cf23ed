"""Changing a cover: what lay there comes off and what follows goes on, in one visit.

One task, so that the plan cannot leave a surface bare between two covers.
"""

from models.records import Effect, Material, Task, TaskKind
from scheduler.methods.case.protocol import Case, Stage, end_min, links, window
from scheduler.methods.tasks.cautions import Hazard, cautions
from scheduler.methods.tasks.labour import Job, in_parts, slowdown

#: A change that comes late is still better than none for this long. [min]
_LATEST_AFTER_DUE_MIN = 2 * 24 * 60
_MOST_STEPS = 5


def change_cover(
    case: Case,
    stage: Stage,
    job: Job,
    steps: tuple[str, ...],
    tools: tuple[str, ...],
    hazards: tuple[Hazard, Hazard],
    effect: Effect = "wet",
    title: str = "",
    kind: TaskKind = "change_cover",
) -> tuple[Task, ...]:
    """Lift one cover and lay the next, around the time it is planned for.

    Parameters
    ----------
    case : Case
        Of the cover that follows.
    stage : Stage
        What it follows and why.
    job : Job
        Laying what follows; lifting is added here.
    steps : tuple of str
        Of the laying, three at most.
    effect : str
        Of the whole change; until its last part the surface is only kept wet.
    title, kind : str
        Where it is more, or less, than one cover for another.
    """
    if not case.needs_cover:
        return ()
    both = Job(
        rates_m2_h=(*stage.lift_rates_m2_h, *job.rates_m2_h),
        people=job.people,
        target_min=job.target_min,
        skill=job.skill,
        dose_l_m2=job.dose_l_m2,
    )
    around_min = round(case.common["hand_over"])
    start_min = max(case.ready_min - around_min, end_min(stage.after))
    due_min = case.ready_min + around_min
    strength = case.gangs.on_shift(job.skill, start_min, due_min)
    parts = in_parts(case, both, slowdown(case, case.ready_min), strength)
    name = case.cover_name
    swap = f"Strip by strip: {stage.lifts} off, wet, next cover on at once."
    before_that = (f"Why: {stage.reason}.", stage.shut_off)
    said = (*before_that, swap if stage.lift_rates_m2_h else "", *steps)
    tasks: list[Task] = []
    for i, work in enumerate(parts):
        last = i == len(parts) - 1
        when = window(
            start_min, due_min, due_min + _LATEST_AFTER_DUE_MIN, work.duration_min
        )
        of = f", part {i + 1} of {len(parts)}" if len(parts) > 1 else ""
        before = tasks[-1] if tasks else stage.after
        tasks.append(
            Task(
                id=case.task_id(f"lay-{i + 1}" if len(parts) > 1 else "lay"),
                surface_id=case.surface.id,
                kind=kind,
                title=(title or f"{stage.lifts} off, {name} on".capitalize()) + of,
                earliest_min=when.earliest_min,
                due_min=when.due_min,
                latest_min=when.latest_min,
                duration_min=work.duration_min,
                people=work.people,
                skills=(job.skill,),
                effect=effect if last else "protect",
                water=work.water,
                after=links(before),
                missed_cost=case.costs.missed_work,
                late_cost_per_min=case.costs.late_cost_per_min,
                materials=(Material(name=name, amount=case.area(work.area_m2)),),
                tools=tools,
                steps=tuple(step for step in said if step)[:_MOST_STEPS],
                cautions=cautions(*hazards),
                log_fields=("time", "condition found", "laps and edges", "initials"),
            )
        )
        start_min = end_min(tasks[-1])
    return tuple(tasks)
