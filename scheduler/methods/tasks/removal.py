"""Taking covers off: after curing, in the cool of a worked morning, in stages."""

from models.records import Link, Material, Task
from scheduler.methods.case.protocol import Case, Window, end_min, window
from scheduler.methods.tasks.cautions import cautions
from scheduler.methods.tasks.labour import Job, in_parts, labour, slowdown

#: Covers left on longer do no harm but are missing elsewhere. [min]
_LATEST_AFTER_DUE_MIN = 3 * 24 * 60
_COMPARE = "Compare surface and air; lay back and wait if too far apart."


def removal(
    case: Case,
    loosen_first: bool,
    limits: tuple[str, ...] = (),
    after: Task | None = None,
) -> tuple[Task, ...]:
    """Lift, wash and return the covers; none if curing ends after the horizon.

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
    before = (Link(task_id=after.id),) if after else ()
    morning = morning._replace(earliest_min=max(morning.earliest_min, end_min(after)))
    if not loosen_first:
        return _lift(case, morning, limits, before)
    loosen = _loosen(case, morning, limits, before)
    lift = _lift(case, morning, limits, before, loosen)
    return _in_time_for(lift, loosen), *lift


def first_morning(case: Case) -> Window | None:
    """First cool worked morning after curing; a day later it is late.

    Curing that ended shortly before the plan, over a weekend say, left its covers for
    this one.
    """
    end_min = case.curing_end_min
    earliest_min = 0 if case.needs_cover else -_LATEST_AFTER_DUE_MIN
    if end_min is None or not earliest_min <= end_min < case.horizon_min:
        return None
    for morning in case.calendar.mornings:
        if morning.until_min >= end_min + 60:
            due_min = max(
                morning.until_min, end_min + round(60 * case.common["removal_due"])
            )
            start_min = max(0, end_min, morning.from_min)
            return Window(start_min, due_min, due_min + _LATEST_AFTER_DUE_MIN)
    return None


def _loosen(
    case: Case, morning: Window, limits: tuple[str, ...], before: tuple[Link, ...]
) -> Task:
    job = Job(
        rates_m2_h=(case.figures["loosen"],),
        people=case.figures.people("loosen_people"),
        target_min=case.common["visit_target"],
    )
    strength = case.gangs.on_shift("labourer", morning.earliest_min, morning.due_min)
    factor = slowdown(case, morning.earliest_min)
    work = labour(case, job, case.surface.area_m2, factor, strength)
    staged = case.surface.cover.form == "blankets"
    return Task(
        id=case.task_id("loosen"),
        surface_id=case.surface.id,
        kind="loosen",
        title="Top blankets off" if staged else "Loosen sheet edges",
        earliest_min=morning.earliest_min,
        due_min=morning.due_min,
        latest_min=morning.latest_min,
        duration_min=work.duration_min,
        people=work.people,
        after=before,
        missed_cost=case.costs.missed_work,
        late_cost_per_min=case.costs.late_cost_per_min,
        tools=("knife", "thermometer"),
        steps=(
            "Confirm with the person in charge that curing is over.",
            "Take the top layer off only; the under layer stays."
            if staged
            else "Take ballast and tape off the edges; leave the sheet lying.",
            *limits,
            "Note surface and air temperature.",
        ),
        cautions=cautions("slips", "edges"),
        log_fields=("time", "surface temperature", "air temperature", "initials"),
    )


def _in_time_for(lift: tuple[Task, ...], loosen: Task) -> Task:
    """Let loosening be due while all of the lifting can still be in time."""
    gap_min = lift[0].after[0].min_gap_min
    takes_min = gap_min + sum(part.duration_min for part in lift)
    due_min = min(loosen.due_min, lift[-1].due_min - takes_min)
    return loosen.model_copy(
        update={"due_min": max(due_min, loosen.earliest_min + loosen.duration_min)}
    )


def _lift(
    case: Case,
    morning: Window,
    limits: tuple[str, ...],
    before: tuple[Link, ...],
    loosen: Task | None = None,
) -> tuple[Task, ...]:
    job = Job(
        rates_m2_h=(case.figures["lift"],),
        people=case.figures.people("lift_people"),
        target_min=case.common["job_target"],
    )
    strength = case.gangs.on_shift("labourer", morning.earliest_min, morning.due_min)
    start_min = morning.earliest_min
    due_min, after = morning.due_min, before
    if loosen:
        gap_min = round(case.figures["loosen_gap"])
        after = (Link(task_id=loosen.id, min_gap_min=gap_min),)
        start_min = end_min(loosen) + gap_min
        # What waits for the night is not late in the morning.
        due_min = max(due_min, start_min + 2 * gap_min)
    parts = in_parts(case, job, slowdown(case, start_min), strength)
    tasks = []
    for i, work in enumerate(parts):
        when = window(start_min, due_min, morning.latest_min, work.duration_min)
        of = f", part {i + 1} of {len(parts)}" if len(parts) > 1 else ""
        task = Task(
            id=case.task_id(f"remove-{i + 1}" if len(parts) > 1 else "remove"),
            surface_id=case.surface.id,
            kind="remove_cover",
            title=f"Lift {case.cover_name}{of}",
            earliest_min=when.earliest_min,
            due_min=when.due_min,
            latest_min=when.latest_min,
            duration_min=work.duration_min,
            people=work.people,
            after=after,
            missed_cost=case.costs.missed_work,
            late_cost_per_min=case.costs.late_cost_per_min,
            materials=(Material(name=case.cover_name, amount=case.area(work.area_m2)),),
            tools=("thermometer", "trolley", "tags"),
            steps=(
                "Confirm with the person in charge that curing is over.",
                *(limits or (_COMPARE,)),
                "Lift strip by strip while it is cool; damp, not bone dry.",
                "Rinse where the water is caught, drain, roll, tag, back to store.",
            ),
            cautions=cautions("handling", "run_off"),
            log_fields=(
                "time",
                "surface temperature",
                "air temperature",
                "area returned",
                "initials",
            ),
        )
        tasks.append(task)
        after = (Link(task_id=task.id),)
        start_min = when.earliest_min + work.duration_min
    return tuple(tasks)
