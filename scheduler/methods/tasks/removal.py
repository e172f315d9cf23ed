"""Taking covers off: after curing, in the cool of a worked morning, in stages."""

from models.records import Link, Task
from scheduler.methods.case.held import LATEST_AFTER_DUE_MIN, mornings_after
from scheduler.methods.case.protocol import Case, Window, end_min, links
from scheduler.methods.tasks.builder import (
    Brief,
    build_parts,
    build_task,
    cover_of_part,
)
from scheduler.methods.tasks.labour import Workload, in_strips, labour, slowdown

#: The first step of whatever ends curing.
CONFIRM = "Confirm with the person in charge that curing is over."
_COMPARE = "Compare surface and air temperature; if too different, re-cover and wait."


def removal(
    case: Case,
    loosen_first: bool,
    limits: tuple[str, ...] = (),
    after: Task | None = None,
) -> tuple[Task, ...]:
    """Lift, wash and return the covers; none if it is not for this plan.

    Parameters
    ----------
    case : Case
        A surface under covers.
    loosen_first : bool
        Sheets are opened along their edges well before they are lifted.
    limits : tuple of str
        What else must hold before anything comes off.
    after : Task or None
        What must be done before.
    """
    morning = first_morning(case)
    if morning is None:
        return ()
    morning = morning._replace(earliest_min=max(morning.earliest_min, end_min(after)))
    if not loosen_first:
        return _lift(case, morning, limits, links(after))
    loosen = _loosen(case, morning, limits, links(after))
    lift = _lift(case, morning, limits, (), loosen)
    return _in_time_for(lift, loosen), *lift


def first_morning(case: Case) -> Window | None:
    """Give the window in which covers come off; None if it is not in this plan.

    It opens on the first cool worked morning after curing on which the concrete bears
    it, and ends before the next on which it does not; a day later is late. None if
    there is none. [min of the horizon]
    """
    end_min, horizon_min = case.curing_end_min, case.horizon_min
    if end_min is None:
        return None
    lies = not case.needs_cover
    for morning in mornings_after(case.calendar.mornings, end_min, horizon_min, lies):
        if morning.from_min in case.held.shocks:
            continue
        start_min = max(0, end_min, morning.from_min)
        due_min = max(
            morning.until_min, end_min + round(60 * case.common["removal_due"])
        )
        held_min = case.held.until_min(morning.from_min)
        return Window(
            start_min,
            round(min(due_min, held_min)),
            round(min(due_min + LATEST_AFTER_DUE_MIN, held_min)),
        )
    return None


def _loosen(
    case: Case, morning: Window, limits: tuple[str, ...], after: tuple[Link, ...]
) -> Task:
    """Open the edges of a sheet, or take the upper layer of blankets off."""
    job = Workload(
        rates_m2_h=(case.figures["loosen"],),
        people=case.figures.people("loosen_people"),
        target_min=case.common["visit_target"],
    )
    strength = case.gangs.on_shift("labourer", morning.earliest_min, morning.due_min)
    factor = slowdown(case, morning.earliest_min)
    work = labour(case, job, case.surface.area_m2, factor, strength)
    in_layers = case.surface.cover.form == "blankets"
    brief = Brief(
        title="Top blankets off" if in_layers else "Loosen sheet edges",
        steps=(
            CONFIRM,
            "Take the top layer off only; the under layer stays."
            if in_layers
            else "Take ballast and tape off the edges; leave the sheet lying.",
            *limits,
            "Note surface and air temperature.",
        ),
        hazards=("slips", "edges"),
        tools=("knife", "thermometer"),
        log_fields=("time", "surface temperature", "air temperature", "initials"),
    )
    return build_task(case, "loosen", "loosen", brief, morning, work, after=after)


def _in_time_for(lift: tuple[Task, ...], loosen: Task) -> Task:
    """Let loosening be due while all of the lifting can still be in time."""
    gap_min = lift[0].after[0].min_gap_min
    takes_min = gap_min + sum(part.duration_min for part in lift)
    due_min = min(loosen.due_min, lift[-1].due_min - takes_min)
    return loosen.model_copy(update={"due_min": max(due_min, end_min(loosen))})


def _lift(
    case: Case,
    morning: Window,
    limits: tuple[str, ...],
    after: tuple[Link, ...],
    loosen: Task | None = None,
) -> tuple[Task, ...]:
    """Lift in parts; what was loosened first lies open for a while before."""
    job = Workload(
        rates_m2_h=(case.figures["lift"],),
        people=case.figures.people("lift_people"),
        target_min=case.common["job_target"],
    )
    when = morning
    if loosen:
        gap_min = round(case.figures["loosen_gap"])
        after = (Link(task_id=loosen.id, min_gap_min=gap_min),)
        start_min = end_min(loosen) + gap_min
        # What waits for the night is not late in the morning.
        due_min = max(morning.due_min, start_min + 2 * gap_min)
        when = Window(start_min, due_min, morning.latest_min)
    slow = slowdown(case, when.earliest_min)
    brief = Brief(
        title=f"Lift {case.cover_name}",
        steps=(
            CONFIRM,
            *(limits or (_COMPARE,)),
            "Lift strip by strip while it is cool; damp, not bone dry.",
            "Rinse where the water is caught, drain, roll, tag, back to store.",
        ),
        hazards=("handling", "run_off"),
        tools=("thermometer", "trolley", "tags"),
        log_fields=(
            "time", "surface temperature", "air temperature", "area returned",
            "initials",
        ),
    )  # fmt: skip
    return build_parts(
        case,
        "remove_cover",
        "remove",
        brief,
        when,
        in_strips(case, job, slow, when.earliest_min, when.due_min),
        cover_of_part(case),
        job="lifting",
        after=after,
    )
