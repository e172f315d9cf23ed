"""Looks at a surface under its cover: per shift, and on days off."""

from math import ceil

from models.records import Stretch, Task
from scheduler.methods.cautions import cautions
from scheduler.methods.protocol import Case, window
from scheduler.methods.site_calendar import Watch
from scheduler.methods.stretches import clip


def look_min(case: Case) -> int:
    """Give the length of one look in minutes."""
    walk_min = 60 * case.surface.area_m2 / case.common["look"]
    return ceil(case.common["set_up"] + walk_min)


def looks_per_shift(
    case: Case, covered_min: int, steps: tuple[str, ...], log_fields: tuple[str, ...]
) -> tuple[Task, ...]:
    """Ask for looks in every worked shift and on every day off, as the profile does."""
    watches = [(w, case.profile.inspections_per_shift) for w in case.calendar.shifts]
    watches += [
        (w, case.profile.inspections_per_non_working_day)
        for w in case.calendar.days_off
    ]
    return _looks(case, covered_min, watches, steps, log_fields)


def looks_per_day(
    case: Case, covered_min: int, steps: tuple[str, ...], log_fields: tuple[str, ...]
) -> tuple[Task, ...]:
    """Ask for one look a day."""
    watches = [(watch, 1) for watch in case.calendar.daily()]
    return _looks(case, covered_min, watches, steps, log_fields)


def _looks(
    case: Case,
    covered_min: int,
    watches: list[tuple[Watch, int]],
    steps: tuple[str, ...],
    log_fields: tuple[str, ...],
) -> tuple[Task, ...]:
    ends_min = min(case.ends_min, case.horizon_min)
    return tuple(
        _look(
            case,
            f"{watch.name}-{i + 1}" if times > 1 else watch.name,
            share,
            steps,
            log_fields,
        )
        for watch, times in watches
        if (part := _under_cover(watch.stretch, covered_min, ends_min))
        for i in range(times)
        if (share := _share(part, i, times))
        and share.until_min - share.from_min >= look_min(case)
    )


def _under_cover(watch: Stretch, from_min: int, until_min: int) -> Stretch | None:
    """Part of a watch under the cover, where that is at least half of it."""
    part = clip(watch, from_min, until_min)
    if part is None:
        return None
    whole_min = watch.until_min - watch.from_min
    return part if 2 * (part.until_min - part.from_min) >= whole_min else None


def _share(part: Stretch, index: int, count: int) -> Stretch:
    """Equal share of a stretch, so that two looks lie apart."""
    length_min = part.until_min - part.from_min
    return Stretch(
        from_min=part.from_min + index * length_min // count,
        until_min=part.from_min + (index + 1) * length_min // count,
    )


def _look(
    case: Case,
    name: str,
    share: Stretch,
    steps: tuple[str, ...],
    log_fields: tuple[str, ...],
) -> Task:
    needs_min = look_min(case)
    when = window(share.from_min, share.until_min, share.until_min, needs_min)
    dark = case.calendar.is_night(share.from_min)
    return Task(
        id=case.task_id(f"look/{name}"),
        surface_id=case.surface.id,
        kind="inspect",
        title=f"Look under {case.cover_name}",
        earliest_min=when.earliest_min,
        due_min=when.due_min,
        latest_min=when.latest_min,
        duration_min=needs_min,
        people=1,
        missed_cost=case.costs.missed_inspection,
        late_cost_per_min=case.costs.late_min,
        tools=("lamp", "log") if dark else ("log",),
        steps=steps,
        cautions=cautions("night", "slips") if dark else cautions("load", "weather"),
        log_fields=log_fields,
    )
