"""Taking covers off: after curing, in the cool of a worked morning, in stages."""

from collections.abc import Iterator

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
    lift = _lift_loosened(case, morning, limits, loosen)
    return (_in_time_for(lift, loosen), *lift) if lift else (loosen,)


def first_morning(case: Case) -> Window | None:
    """Give the window in which covers come off; None if it is not in this plan.

    It opens on the first cool worked morning after curing on which the concrete bears
    it, and ends before the next on which it does not; a day later is late. Where no
    morning is warm enough it is a midday. [min of the horizon]
    """
    return next(_windows(case), None)


def _windows(case: Case) -> Iterator[Window]:
    """Yield when covers may come off: mornings, and middays of those that are held."""
    end_min, horizon_min = case.curing_end_min, case.horizon_min
    if end_min is None:
        return
    lies, day_min = not case.needs_cover, 24 * 60
    for morning in mornings_after(case.calendar.mornings, end_min, horizon_min, lies):
        held_min = case.held.until_min(morning.from_min)
        if morning.from_min not in case.held.shocks:
            due_min = max(
                morning.until_min, end_min + round(60 * case.common["removal_due"])
            )
            yield Window(
                max(0, end_min, morning.from_min),
                round(min(due_min, held_min)),
                round(min(due_min + LATEST_AFTER_DUE_MIN, held_min)),
            )
            continue
        for midday in case.held.middays:
            if morning.from_min <= midday.from_min < morning.from_min + day_min:
                start_min = max(0, end_min, midday.from_min)
                yield Window(start_min, midday.until_min, midday.until_min)


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


def _lift_loosened(
    case: Case, morning: Window, limits: tuple[str, ...], loosen: Task
) -> tuple[Task, ...]:
    """Lift what has lain open for a while, when the concrete bears that too."""
    gap_min = round(case.figures["loosen_gap"])
    start_min = end_min(loosen) + gap_min
    # What waits for the night is not late in the morning.
    due_min = max(morning.due_min, start_min + 2 * gap_min)
    when = Window(start_min, due_min, morning.latest_min)
    if case.held.shocks:
        later = (w for w in _windows(case) if w.latest_min >= start_min + _LEAST_MIN)
        free = next(later, None)
        if free is None:
            return ()
        when = free._replace(earliest_min=max(free.earliest_min, start_min))
    after = (Link(task_id=loosen.id, min_gap_min=gap_min),)
    return _lift(case, when, limits, after)


def _how(case: Case, when: Window) -> str:
    """Say at what time of day to lift: in the cool, or in the warm where it waited."""
    start_min = when.earliest_min
    if any(m.from_min <= start_min < m.until_min for m in case.held.middays):
        return "Lift strip by strip in the warm hours; lay back what cools too fast."
    return "Lift strip by strip while it is cool; damp, not bone dry."


#: Less of a window is not worth sending anybody. [min]
_LEAST_MIN = 60


def _lift(
    case: Case,
    when: Window,
    limits: tuple[str, ...],
    after: tuple[Link, ...],
) -> tuple[Task, ...]:
    """Lift in parts."""
    job = Workload(
        rates_m2_h=(case.figures["lift"],),
        people=case.figures.people("lift_people"),
        target_min=case.common["job_target"],
    )
    slow = slowdown(case, when.earliest_min)
    brief = Brief(
        title=f"Lift {case.cover_name}",
        steps=(
            CONFIRM,
            *(limits or (_COMPARE,)),
            _how(case, when),
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
