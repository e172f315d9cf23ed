"""Changing a cover: what lay there comes off and what follows goes on, in one visit.

One task, so that the plan cannot leave a surface bare between two covers.
"""

from dataclasses import replace

from models.records import Task, TaskKind
from scheduler.methods.case.protocol import Case, Stage, Window, end_min, links
from scheduler.methods.tasks.builder import Brief, build_parts, cover_of_part
from scheduler.methods.tasks.cautions import Hazard
from scheduler.methods.tasks.labour import Workload, in_parts, in_strips, slowdown

#: A change that comes late is still better than none for this long. [min]
_LATEST_AFTER_DUE_MIN = 2 * 24 * 60


def change_cover(
    case: Case,
    stage: Stage,
    job: Workload,
    steps: tuple[str, ...],
    tools: tuple[str, ...],
    hazards: tuple[Hazard, Hazard],
    title: str = "",
    kind: TaskKind = "change_cover",
) -> tuple[Task, ...]:
    """Lift one cover and lay the next, around the time it is planned for.

    Strip by strip, by several parties at once; a pond is filled as a whole.

    Parameters
    ----------
    case : Case
        Of the cover that follows; ``ready_min`` is the planned time.
    stage : Stage
        What it follows and why.
    job : Workload
        Laying what follows; lifting is added here.
    steps : tuple of str
        Of the laying.
    title, kind : str
        Where it is more, or less, than one cover for another.
    """
    if not case.needs_cover:
        return ()
    both = replace(job, rates_m2_h=(*stage.lift_rates_m2_h, *job.rates_m2_h))
    around_min = round(case.common["hand_over"])
    start_min = max(case.ready_min - around_min, end_min(stage.after))
    due_min = case.ready_min + around_min
    pond, slow = kind == "fill_pond", slowdown(case, case.ready_min)
    if pond:
        strength = case.gangs.on_shift(job.skill, start_min, due_min)
        parts = in_parts(case, both, slow, strength)
    else:
        parts = in_strips(case, both, slow, start_min, due_min)
    swap = f"Strip by strip: {stage.lifts} off, wet, next cover on at once."
    before = (stage.shut_off, swap if stage.lift_rates_m2_h else "")
    brief = Brief(
        title=title or f"{stage.lifts} off, {case.cover_name} on".capitalize(),
        steps=(f"Why: {stage.reason}.", *(step for step in before if step), *steps),
        hazards=hazards,
        tools=tools,
        log_fields=("time", "condition found", "laps and edges", "initials"),
    )
    return build_parts(
        case,
        kind,
        "lay",
        brief,
        Window(start_min, due_min, due_min + _LATEST_AFTER_DUE_MIN),
        parts,
        cover_of_part(case),
        skill=job.skill,
        effect="wet",
        effect_before="protect",
        job="" if pond else "changing",
        after=links(stage.after),
    )
