"""Looks at a surface under its cover: per shift, and on days off."""

from dataclasses import dataclass
from math import ceil

from models.records import Skill, Stretch, Task, TaskKind
from scheduler.methods.case.protocol import Case, window
from scheduler.methods.resources.calendar import Watch
from scheduler.methods.resources.stretches import clip
from scheduler.methods.tasks.cautions import cautions

#: Two looks at one surface sooner after one another tell nothing new (common
#: practice, no source).
LOOKS_APART_MIN = 90


def look_min(case: Case) -> int:
    """Give the length of one look in minutes."""
    walk_min = 60 * case.surface.area_m2 / case.common["look"]
    return ceil(case.common["set_up"] + walk_min)


@dataclass(frozen=True)
class Look:
    """What a look is for: its words, and its kind where it is more than a look.

    ``met_by_wetting`` where whoever wets the cover feels it first.
    """

    steps: tuple[str, ...]
    log_fields: tuple[str, ...]
    kind: TaskKind = "inspect"
    title: str = ""
    tools: tuple[str, ...] = ()
    skill: Skill = "labourer"
    met_by_wetting: bool = False


def watches(case: Case) -> tuple[Watch, ...]:
    """Every worked shift and every day off."""
    return (*case.calendar.shifts, *case.calendar.days_off)


def looks_per_shift(case: Case, covered_min: int, look: Look) -> tuple[Task, ...]:
    """Ask for looks in every worked shift and on every day off, as the profile does."""
    profile = case.profile
    asked = [(w, profile.inspections_per_shift) for w in case.calendar.shifts]
    off = profile.inspections_per_non_working_day
    asked += [(watch, off) for watch in case.calendar.days_off]
    return _looks(case, covered_min, asked, look)


def looks_per_day(case: Case, covered_min: int, look: Look) -> tuple[Task, ...]:
    """Ask for one look a day."""
    return _looks(case, covered_min, [(w, 1) for w in case.calendar.daily()], look)


def _looks(
    case: Case, covered_min: int, asked: list[tuple[Watch, int]], look: Look
) -> tuple[Task, ...]:
    """Spread looks over watches; from a planned change on they are its cover's."""
    from_min = case.ready_min if case.stage else covered_min
    ends_min = min(case.ends_min, case.horizon_min)
    least_min = look_min(case)
    shares = [
        (f"look/{watch.name}-{i + 1}" if times > 1 else f"look/{watch.name}", share)
        for watch, times in asked
        if (part := _under_cover(watch.stretch, from_min, ends_min, bool(case.stage)))
        for i in range(times)
        if (share := _share(part, i, times))
        and share.until_min - share.from_min >= least_min
    ]
    return tuple(
        look_task(case, name, share, look) for name, share in _apart(shares, least_min)
    )


def _apart(
    shares: list[tuple[str, Stretch]], least_min: int
) -> list[tuple[str, Stretch]]:
    """Cut stretches so that two looks lie apart, over a change of shifts too.

    Each gives up half of what is lacking, and keeps time for one look.
    """
    shares = sorted(shares, key=lambda named: named[1].from_min)
    for i in range(len(shares) - 1):
        (name, one), (following, other) = shares[i], shares[i + 1]
        lacking_min = LOOKS_APART_MIN - (other.from_min - one.until_min)
        if lacking_min > 0:
            until_min = one.until_min - lacking_min // 2
            from_min = other.from_min + (lacking_min + 1) // 2
            until_min = max(until_min, one.from_min + least_min)
            from_min = min(from_min, other.until_min - least_min)
            shares[i] = name, one.model_copy(update={"until_min": until_min})
            shares[i + 1] = following, other.model_copy(update={"from_min": from_min})
    return shares


def _under_cover(
    watch: Stretch, from_min: int, until_min: int, later: bool
) -> Stretch | None:
    """Part of a watch under the cover, where that is half of it; of two the first's."""
    part = clip(watch, from_min, until_min)
    if part is None:
        return None
    under_min = part.until_min - part.from_min
    over_min = 2 * under_min - (watch.until_min - watch.from_min)
    return part if over_min > 0 or (over_min == 0 and not later) else None


def _share(part: Stretch, index: int, count: int) -> Stretch:
    """Equal share of a stretch, so that two looks lie apart."""
    length_min = part.until_min - part.from_min
    return Stretch(
        from_min=part.from_min + index * length_min // count,
        until_min=part.from_min + (index + 1) * length_min // count,
    )


def look_task(case: Case, name: str, share: Stretch, look: Look) -> Task:
    """Ask for one look within a stretch of time."""
    needs_min = look_min(case)
    when = window(share.from_min, share.until_min, share.until_min, needs_min)
    dark = case.calendar.is_night(share.from_min)
    return Task(
        id=case.task_id(name),
        surface_id=case.surface.id,
        kind=look.kind,
        title=look.title or f"Look under {case.cover_name}",
        earliest_min=when.earliest_min,
        due_min=when.due_min,
        latest_min=when.latest_min,
        duration_min=needs_min,
        people=1,
        skills=(look.skill,),
        met_by_wetting=look.met_by_wetting,
        missed_cost=case.costs.missed_inspection,
        late_cost_per_min=case.costs.late_cost_per_min,
        tools=(*(("lamp",) if dark else ()), *look.tools, "log"),
        steps=look.steps,
        cautions=cautions("night", "slips") if dark else cautions("load", "weather"),
        log_fields=look.log_fields,
    )
