"""Inspections of a surface under its cover: in every shift, and on days off."""

from dataclasses import dataclass, replace
from math import ceil

from models.records import Skill, Stretch, Task, TaskKind, WaterNeed
from scheduler.methods.case.protocol import Case, Window, end_min, links
from scheduler.methods.resources.calendar import Watch
from scheduler.methods.resources.stretches import clip
from scheduler.methods.tasks.builder import Brief, build_task, water_brought
from scheduler.methods.tasks.labour import one_person

#: Two inspections of one surface sooner after one another tell nothing new (common
#: practice, no source).
_APART_MIN = 90


def inspection_min(case: Case) -> int:
    """Give the length of one inspection in minutes."""
    walk_min = 60 * case.surface.area_m2 / case.common["look"]
    return ceil(case.common["set_up"] + walk_min)


@dataclass(frozen=True)
class Inspection:
    """What an inspection is for: its words, and its kind where it is a special one.

    Attributes
    ----------
    title : str
        "" for a title that names the cover.
    skill : str
        Who may do it.
    met_by_wetting : bool
        Whoever wets the cover feels it first, and has then done it.
    dose_l_m2 : float
        Water put on at each inspection, whatever is found.
    waits_min : int
        How long after the cover is on the first one has anything to tell.
    """

    steps: tuple[str, ...]
    log_fields: tuple[str, ...]
    kind: TaskKind = "inspect"
    title: str = ""
    tools: tuple[str, ...] = ()
    skill: Skill = "labourer"
    met_by_wetting: bool = False
    dose_l_m2: float = 0
    waits_min: int = _APART_MIN


def watches(case: Case) -> tuple[Watch, ...]:
    """Every worked shift and every day off."""
    return (*case.calendar.shifts, *case.calendar.days_off)


def inspections_per_shift(
    case: Case, covered_min: int, inspection: Inspection, laid: Task | None
) -> tuple[Task, ...]:
    """Ask for inspections in every shift and on every day off, as the profile does.

    Parameters
    ----------
    covered_min : int
        From when the cover is on. [min of the horizon]
    laid : Task or None
        What puts there what is inspected; None if it lies there already.
    """
    profile = case.profile
    asked = [(w, profile.inspections_per_shift) for w in case.calendar.shifts]
    off = profile.inspections_per_non_working_day
    asked += [(watch, off) for watch in case.calendar.days_off]
    return _inspections(case, covered_min, asked, inspection, laid)


def inspections_per_day(
    case: Case, covered_min: int, inspection: Inspection, laid: Task | None
) -> tuple[Task, ...]:
    """Ask for one inspection a day, from the same minute on."""
    asked = [(watch, 1) for watch in case.calendar.daily()]
    return _inspections(case, covered_min, asked, inspection, laid)


def _inspections(
    case: Case,
    covered_min: int,
    asked: list[tuple[Watch, int]],
    inspection: Inspection,
    laid: Task | None,
) -> tuple[Task, ...]:
    """Spread so many inspections over each watch that is mostly under this cover.

    From a planned change on they are its cover's, even while that is not on yet.
    """
    from_min = case.ready_min if case.stage else covered_min
    ends_min = min(case.ends_min, case.horizon_min)
    least_min = inspection_min(case)
    shares = [
        (f"look/{watch.name}-{i + 1}" if times > 1 else f"look/{watch.name}", share)
        for watch, times in asked
        if (part := _under_cover(watch.stretch, from_min, ends_min, bool(case.stage)))
        for i in range(times)
        if (share := _share(part, i, times))
        and share.until_min - share.from_min >= least_min
    ]
    return tuple(
        build_inspection(case, name, share, inspection, laid)
        for name, share in _apart(shares, least_min)
        if share.until_min >= _first_min(inspection, laid) + least_min
    )


def _apart(
    shares: list[tuple[str, Stretch]], least_min: int
) -> list[tuple[str, Stretch]]:
    """Cut stretches so that two inspections lie apart, over a change of shifts too.

    Each gives up half of what is lacking, and keeps time for one inspection.
    """
    shares = sorted(shares, key=lambda named: named[1].from_min)
    for i in range(len(shares) - 1):
        (name, one), (following, other) = shares[i], shares[i + 1]
        lacking_min = _APART_MIN - (other.from_min - one.until_min)
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
    """Give the part of a watch that a cover lies in; None if that is too little.

    More than half of the watch counts. Exactly half counts for the first of a
    surface's covers and not for a ``later`` one, so that one of the two has the watch.
    """
    part = clip(watch, from_min, until_min)
    if part is None:
        return None
    under_min = part.until_min - part.from_min
    over_min = 2 * under_min - (watch.until_min - watch.from_min)
    return part if over_min > 0 or (over_min == 0 and not later) else None


def _share(part: Stretch, index: int, count: int) -> Stretch:
    """Equal share of a stretch, so that two inspections lie apart."""
    length_min = part.until_min - part.from_min
    return Stretch(
        from_min=part.from_min + index * length_min // count,
        until_min=part.from_min + (index + 1) * length_min // count,
    )


def _first_min(inspection: Inspection, laid: Task | None) -> int:
    """Minute at which the first inspection may begin at the soonest."""
    return end_min(laid) + inspection.waits_min if laid else 0


def build_inspection(
    case: Case,
    name: str,
    share: Stretch,
    inspection: Inspection,
    laid: Task | None = None,
) -> Task:
    """Ask for one inspection within a stretch of time, once there is a cover."""
    dark = case.calendar.is_night(share.from_min)
    work = one_person(case, inspection_min(case))
    if inspection.dose_l_m2:
        litres_l = round(case.surface.area_m2 * inspection.dose_l_m2, 1)
        until_min = work.duration_min
        work = replace(work, water=WaterNeed(litres_l=litres_l, until_min=until_min))
    brief = Brief(
        title=inspection.title or f"Inspect under {case.cover_name}",
        steps=inspection.steps,
        hazards=("night", "slips") if dark else ("load", "weather"),
        tools=(*(("lamp",) if dark else ()), *inspection.tools, "log"),
        log_fields=inspection.log_fields,
    )
    return build_task(
        case,
        inspection.kind,
        name,
        brief,
        Window(
            max(share.from_min, _first_min(inspection, laid)),
            share.until_min,
            share.until_min,
        ),
        work,
        skill=inspection.skill,
        effect="wet" if inspection.dose_l_m2 else "none",
        met_by_wetting=inspection.met_by_wetting,
        after=tuple(
            link.model_copy(update={"min_gap_min": inspection.waits_min})
            for link in links(laid)
        ),
        materials=water_brought(work) if inspection.dose_l_m2 else (),
    )
