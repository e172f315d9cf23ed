"""Laying a cover: when it may go on, by when it must be on, in how many parts."""

from models.records import Link, Material, Task
from scheduler.methods.case.protocol import Case, window
from scheduler.methods.tasks.cautions import Hazard, cautions
from scheduler.methods.tasks.handover import change_cover
from scheduler.methods.tasks.labour import Job, in_parts, slowdown

#: A cover that comes late is still better than none for this long. [min]
LATEST_AFTER_DUE_MIN = 3 * 24 * 60
_DAY_MIN = 24 * 60


def lay_cover(
    case: Case,
    job: Job,
    title: str,
    steps: tuple[str, ...],
    tools: tuple[str, ...],
    hazards: tuple[Hazard, Hazard],
    within_min: int = _DAY_MIN,
) -> tuple[Task, ...]:
    """Lay a wet cover on the whole surface, in place of another where one lies there.

    Only the last part has the cover on: until then the surface counts as bare
    between parts. A job that takes longer than the profile, or ``within_min``, allows
    is due at the time it would end if begun at once.
    """
    if case.stage:
        return change_cover(case, case.stage, job, steps[1:4], tools, hazards)
    if not case.needs_cover:
        return ()
    within_min = min(case.profile.cover_within_min, within_min)
    strength = case.gangs.on_shift(
        job.skill, case.ready_min, case.ready_min + within_min + 1
    )
    parts = in_parts(case, job, slowdown(case, case.ready_min, True), strength)
    start_min = max(0, case.ready_min)
    latest_min = case.ready_min + within_min + LATEST_AFTER_DUE_MIN
    tasks: list[Task] = []
    for i, work in enumerate(parts):
        when = window(
            start_min, case.ready_min + within_min, latest_min, work.duration_min
        )
        of = f", part {i + 1} of {len(parts)}" if len(parts) > 1 else ""
        tasks.append(
            Task(
                id=case.task_id(f"lay-{i + 1}" if len(parts) > 1 else "lay"),
                surface_id=case.surface.id,
                kind="lay_cover",
                title=title + of,
                earliest_min=when.earliest_min,
                due_min=when.due_min,
                latest_min=when.latest_min,
                duration_min=work.duration_min,
                people=work.people,
                skills=(job.skill,),
                effect="wet",
                covers=i == len(parts) - 1,
                water=work.water,
                after=tuple(Link(task_id=task.id) for task in tasks[-1:]),
                missed_cost=case.costs.missed_work,
                late_cost_per_min=case.costs.late_cost_per_min,
                materials=(
                    Material(name=case.cover_name, amount=case.area(work.area_m2)),
                ),
                tools=tools,
                steps=steps,
                cautions=cautions(*hazards),
                log_fields=(
                    "time",
                    "surface marks or not",
                    "laps and edges",
                    "initials",
                ),
            )
        )
        start_min = when.earliest_min + work.duration_min
    return tuple(tasks)


def covered_from_min(case: Case, laid: tuple[Task, ...]) -> int:
    """Minute from which the cover is on: as reported, else as soon as it can be."""
    if case.covered_from_min is not None:
        return case.covered_from_min
    return laid[-1].earliest_min + laid[-1].duration_min


def last_of(tasks: tuple[Task, ...]) -> Task | None:
    """Give the last of tasks that follow one another, if there is one."""
    return tasks[-1] if tasks else None
