"""The one place that makes tasks: what all of them share, and jobs done in parts."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from models.records import (
    TASK_KINDS,
    Effect,
    Link,
    Material,
    Skill,
    Task,
    TaskKind,
)
from scheduler.methods.case.protocol import Case, Window, end_min, links
from scheduler.methods.tasks.cautions import Hazard, cautions
from scheduler.methods.tasks.labour import Labour

#: Laying a first cover and fogging what it does not lie on yet go on side by side.
LAYING = "laying"


@dataclass(frozen=True)
class Brief:
    """What people are told of a piece of work.

    Attributes
    ----------
    steps : tuple of str
        How to do it, in order.
    hazards : pair of str
        What to mind.
    tools : tuple of str
        What to bring.
    log_fields : tuple of str
        What to write down.
    """

    title: str
    steps: tuple[str, ...]
    hazards: tuple[Hazard, Hazard]
    tools: tuple[str, ...]
    log_fields: tuple[str, ...]


def build_task(
    case: Case,
    kind: TaskKind,
    name: str,
    brief: Brief,
    when: Window,
    work: Labour,
    *,
    skill: Skill = "labourer",
    effect: Effect = "none",
    covers: bool = False,
    share_fraction: float = 1,
    strip: bool = False,
    job: str = "",
    met_by_wetting: bool = False,
    begins_min: int = 0,
    after: tuple[Link, ...] = (),
    materials: tuple[Material, ...] = (),
) -> Task:
    """Make one task of a surface, at the prices that the site has for its kind.

    It is due no sooner than anybody on shift could have done it, were there nothing
    else to do.

    Parameters
    ----------
    name : str
        Of the task within its stage of the surface; the same in every plan.
    when : Window
        As wanted; ends are put off until the work fits. [min of the horizon]
    work : Labour
        Its people, minutes and water.
    share_fraction : float
        Of a fresh surface that it keeps wet. [-]
    strip : bool
        A strip of a first cover.
    job : str
        Shared by tasks that may be done beside each other.
    met_by_wetting : bool
        An inspection that a visit which wets the surface does too.
    begins_min : int
        Minute at which what it follows can be done, where that is due on its own.
    after : tuple of Link
        What it follows.
    """
    facts = TASK_KINDS[kind]
    missed_costs = {
        "work": case.costs.missed_work,
        "inspection": case.costs.missed_inspection,
        "dryness": 0.0,
    }
    late_cost = case.costs.late_cost_per_min if facts.late else 0.0
    fitted = when.fitted(work.duration_min)
    begins_min = max(begins_min, fitted.earliest_min)
    done_min = soonest_min(case, skill, work, begins_min)
    if done_min <= fitted.latest_min:
        fitted = fitted._replace(due_min=max(fitted.due_min, done_min))
    return Task(
        id=case.task_id(name),
        surface_id=case.surface.id,
        kind=kind,
        title=brief.title,
        earliest_min=fitted.earliest_min,
        due_min=fitted.due_min,
        latest_min=fitted.latest_min,
        duration_min=work.duration_min,
        people=work.people,
        skills=(skill,),
        effect=effect,
        covers=covers,
        share_fraction=share_fraction,
        strip=strip,
        job=job,
        met_by_wetting=met_by_wetting,
        water=work.water,
        after=after,
        missed_cost=missed_costs[facts.missed_as],
        late_cost_per_min=late_cost,
        materials=materials,
        tools=brief.tools,
        steps=brief.steps,
        cautions=cautions(*brief.hazards),
        log_fields=brief.log_fields,
    )


def build_parts(
    case: Case,
    kind: TaskKind,
    name: str,
    brief: Brief,
    when: Window,
    parts: Sequence[Labour],
    material: Callable[[Labour], Material],
    *,
    skill: Skill = "labourer",
    effect: Effect = "none",
    effect_before: Effect = "none",
    covers: bool = False,
    kept_share: float = 0,
    job: str = "",
    at_once: int = 1,
    begins_min: int = 0,
    after: tuple[Link, ...] = (),
) -> tuple[Task, ...]:
    """Make a job of one or more parts, all in one window.

    Each part comes after the one before. Where ``job`` lets them go on side by side,
    they begin in order, and each is a share of one duty. None is due before people can
    have got to it.

    Parameters
    ----------
    material : callable
        What is brought for a part.
    effect, effect_before : str
        Of the last part, and of each before it.
    covers : bool
        With the last part the cover is on.
    kept_share : float
        Of a fresh surface that all parts together keep wet for good, each an equal
        strip of it from its middle on; 0 for work that keeps it so while it lasts. [-]
    at_once : int
        Parties that are there to go on side by side.
    begins_min : int
        Minute at which what the first part follows can be done.
    after : tuple of Link
        What the first part follows.
    """
    tasks: list[Task] = []
    done_min = max(0, begins_min, when.earliest_min)
    for number, work in enumerate(parts, start=1):
        last, several = number == len(parts), len(parts) > 1
        if (number - 1) % at_once == 0:
            begins_min = done_min
            done_min = soonest_min(case, skill, work, begins_min)
        task = build_task(
            case,
            kind,
            f"{name}-{number}" if several else name,
            brief,
            when,
            work,
            skill=skill,
            effect=effect if last else effect_before,
            covers=covers and last,
            share_fraction=kept_share / len(parts) if kept_share else 1,
            strip=bool(kept_share),
            job=job,
            begins_min=begins_min,
            after=after,
            materials=(material(work),),
        )
        update: dict[str, float] = {"part": number, "parts": len(parts)}
        if job:
            update["missed_cost"] = task.missed_cost / len(parts)
            update["late_cost_per_min"] = task.late_cost_per_min / len(parts)
        task = task.model_copy(update=update)
        tasks.append(task)
        if job:
            after = (Link(task_id=task.id, from_start=True),)
        else:
            after = links(task)
            when = when._replace(earliest_min=end_min(task))
    return tuple(tasks)


def soonest_min(case: Case, skill: Skill, work: Labour, begins_min: int) -> int:
    """Give the minute at which work can be over that may begin from a minute on.

    With nobody for it that is counted as if somebody were there.
    """
    done_min = case.gangs.soonest_end_min(
        skill, work.people, case.surface.zone_id, begins_min, work.duration_min
    )
    return begins_min + work.duration_min if done_min is None else done_min


def cover_of_part(case: Case) -> Callable[[Labour], Material]:
    """Say that the area of a part is brought, or taken away, of the cover."""

    def material(work: Labour) -> Material:
        return Material(name=case.cover_name, area_m2=round(work.area_m2, 1))

    return material


def water_brought(work: Labour) -> tuple[Material, ...]:
    """Say how much water a job takes."""
    return (Material(name="water", volume_l=work.water.litres_l if work.water else 0),)
