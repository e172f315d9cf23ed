"""Laying a cover: when it may go on, by when it must be on, in how many parts."""

from dataclasses import dataclass

from models.records import Task
from scheduler.methods.case.protocol import Case, Window
from scheduler.methods.tasks.builder import LAYING, Brief, build_parts, cover_of_part
from scheduler.methods.tasks.cautions import Hazard
from scheduler.methods.tasks.handover import change_cover
from scheduler.methods.tasks.labour import Workload, in_strips, slowdown

#: A cover that comes late is still better than none for this long. [min]
LATEST_AFTER_DUE_MIN = 3 * 24 * 60
_DAY_MIN = 24 * 60


@dataclass(frozen=True)
class Laying:
    """What people are told of laying a cover.

    Attributes
    ----------
    ready : str
        Whether the surface can take it; asked where the cover is the first.
    lay : pair of str
        The laying itself.
    finish : str
        What ends it; at a change of cover left to the gang where the water must be
        stopped first, as a sheet has room for five steps.
    besides : str
        What else to mind where the cover is the first; "" for nothing.
    """

    title: str
    ready: str
    lay: tuple[str, str]
    finish: str
    tools: tuple[str, ...]
    hazards: tuple[Hazard, Hazard]
    besides: str = ""


def lay_cover(
    case: Case, job: Workload, laying: Laying, within_min: int = _DAY_MIN
) -> tuple[Task, ...]:
    """Lay a wet cover on the whole surface, in place of another where one lies there.

    A first cover goes on strip by strip: each protects what it lies on, several gangs
    may lay at once and others fog beside them. With the last strip the cover is on. A
    job that takes longer than the profile, or ``within_min`` from the surface being
    ready, allows is due at the time it would end if begun at once.
    """
    if case.stage:
        finish = () if case.stage.shut_off else (laying.finish,)
        steps = (*laying.lay, *finish)
        return change_cover(case, case.stage, job, steps, laying.tools, laying.hazards)
    if not case.needs_cover:
        return ()
    due_min = case.ready_min + min(case.profile.cover_within_min, within_min)
    besides = (laying.besides,) if laying.besides else ()
    brief = Brief(
        title=laying.title,
        steps=(laying.ready, *laying.lay, laying.finish, *besides),
        hazards=laying.hazards,
        tools=laying.tools,
        log_fields=("time", "surface marks or not", "laps and edges", "initials"),
    )
    slow = slowdown(case, case.ready_min, True)
    strips = in_strips(case, job, slow, case.ready_min, due_min + 1)
    there = case.gangs.on_shift(job.skill, case.ready_min, due_min + 1)
    return build_parts(
        case,
        "lay_cover",
        "lay",
        brief,
        Window(case.ready_min, due_min, due_min + LATEST_AFTER_DUE_MIN),
        strips,
        cover_of_part(case),
        skill=job.skill,
        effect="wet",
        effect_before="wet",
        covers=True,
        kept_share=1,
        job=LAYING,
        at_once=max(1, there // strips[0].people),
    )


def covered_from_min(case: Case, laid: tuple[Task, ...]) -> int:
    """Minute from which the cover is on: as reported, else as soon as it can be."""
    if case.covered_from_min is not None:
        return case.covered_from_min
    return laid[-1].earliest_min + laid[-1].duration_min


def last_of(tasks: tuple[Task, ...]) -> Task | None:
    """Give the last of tasks that follow one another, if there is one."""
    return tasks[-1] if tasks else None
