"""Rules 1 and 2: work on covers that are not there, and covers that nobody soaks."""

import re
from collections.abc import Iterator

from models.records import CoverNeed
from scheduler.audit.replayed.jobs import Job
from tests.bench.sense.verdict import Case, Verdict, counted
from tests.bench.sense.week import Week

#: Cloth that has come off wet needs no soaking for so long (assumption). [min]
STAYS_WET_MIN = 1440
_UNDER = re.compile(r"^(Inspect|Look) (under|at)|^Read temperatures", re.IGNORECASE)
#: Kinds of visits that put covers into water before they are laid.
_INTO_WATER = frozenset({"soak_ahead"})


def needs_it(job: Job) -> bool:
    """Whether a visit makes no sense without the cover."""
    if job.task.kind in {"loosen", "remove_cover"} or job.is_rewet:
        return True
    return job.task.kind == "inspect" and bool(_UNDER.match(job.task.title))


def absent_covers(week: Week) -> Verdict:
    """1: nobody looks under, wets, loosens or lifts a cover before it lies or after."""
    return counted(
        "1",
        "work on covers that are not there",
        _absent(week),
        whole=sum(needs_it(job) for job in week.jobs),
    )


def _absent(week: Week) -> Iterator[Case]:
    for job in filter(needs_it, week.jobs):
        course = week.courses[job.work.surface_id]
        on, off = course.on_min, course.off_min
        if on is None:
            why = "it is never laid"
        elif job.start_min < on:
            why = f"it lies from {week.at(on)}"
        elif off is not None and job.start_min >= off:
            why = f"it was lifted {week.at(off)}"
        else:
            continue
        bad = 1.0 if job.task.facts.inspects else 2.0
        yield Case(
            bad,
            f"{week.who(job)}, {week.at(job.start_min)}: {job.task.full_title.lower()},"
            f" {job.work.label}; {why}",
        )


def unseen_kits(week: Week) -> Verdict:
    """2a: a hold point starts once the covers that it looks at can be in the water."""
    return counted(
        "2a",
        "hold points that ask to see what is not there yet",
        (case for case, early in _holds(week) if early),
        whole=_hold_points(week),
    )


def holds_before_stock(week: Week) -> Verdict:
    """2c: a hold point is not before the covers leave the stock for that surface."""
    return counted(
        "2c",
        "hold points before the covers leave the stock",
        (case for case, early in _holds(week) if not early),
        whole=_hold_points(week),
    )


def _hold_points(week: Week) -> int:
    return sum(job.task.kind == "hold_point" for job in week.jobs)


def _holds(week: Week) -> Iterator[tuple[Case, bool]]:
    """Yield hold points that come too soon; True if even for the task's own window."""
    for job in week.jobs:
        if job.task.kind != "hold_point":
            continue
        soaked = [need for need in job.work.cover_needs if _is_soaked(need)]
        if not soaked or not any("soaked" in m.name for m in job.task.materials):
            continue
        need = soaked[0]
        lay = week.tasks[need.laid_by or ""]
        done = week.done(job.work.surface_id)
        in_water = lay.earliest_min - need.soak_lead_min
        if need.soaked_by in done:
            in_water = done[need.soaked_by].end_min
        if need.soaked_by is not None and (
            need.soaked_by not in done
            or in_water > job.task.latest_min - job.task.duration_min
        ):
            continue  # he is told that they come wet, or go in after his check
        laid = None if need.soaked_by else done.get(lay.id)
        words = (
            f"{week.who(job)}, {week.at(job.start_min)}: hold point {job.work.label}"
        )
        if job.start_min < in_water:
            early_h = (in_water - job.start_min) / 60
            what = "covers in water that go in "
            words += f" asks to see {what}{week.at(in_water)}, {early_h:.1f} h later"
            yield Case(early_h, words), True
        elif laid and job.start_min < laid.start_min - need.soak_lead_min:
            leave = laid.start_min - need.soak_lead_min
            words += f"; its covers leave the stock {week.at(leave)}"
            yield Case((leave - job.start_min) / 60, words), False


def _is_soaked(need: CoverNeed) -> bool:
    return need.laid_by is not None and need.soak_lead_min > 0


def _soakings(week: Week, surface_id: str) -> list[Job]:
    return [job for job in week.on[surface_id] if job.task.kind in _INTO_WATER]


def unsoaked(week: Week) -> Verdict:
    """2b: covers that are laid wet were put into water by a visit or came off wet."""
    laid = [
        (job, need)
        for work in week.works.values()
        for need in filter(_is_soaked, work.cover_needs)
        for job in [week.done(work.surface_id).get(need.laid_by or "")]
        if job is not None
    ]
    laid.sort(key=lambda pair: (pair[0].start_min, pair[0].visit.id))
    return counted("2b", "covers that nobody soaks", _dry(week, laid), whole=len(laid))


def _dry(week: Week, laid: list[tuple[Job, CoverNeed]]) -> Iterator[Case]:
    came_off = [
        (end, need.kind, work.surface_id)
        for work in week.works.values()
        for need in work.cover_needs
        if (end := _off_min(week, work.surface_id, need)) is not None
    ]
    still_wet_m2 = {off: week.works[off[2]].area_m2 for off in came_off}
    for job, need in laid:
        sid = job.work.surface_id
        if any(one.end_min <= job.start_min for one in _soakings(week, sid)):
            continue
        wanted_m2 = need.area_m2
        for off in came_off:
            end, kind, of = off
            fresh = 0 <= job.start_min - end <= STAYS_WET_MIN
            if kind == need.kind and of != sid and fresh:
                taken_m2 = min(still_wet_m2[off], wanted_m2)
                still_wet_m2[off] -= taken_m2
                wanted_m2 -= taken_m2
        since = job.start_min - need.soak_lead_min
        asked = job.task.earliest_min - need.soak_lead_min
        if wanted_m2 > 1 and asked > week.begins_min:  # earlier ones were in already
            yield Case(
                wanted_m2,
                f"{job.work.label}: {wanted_m2:.0f} m² of "
                f"{need.kind.replace('_', ' ')} laid {week.at(job.start_min)}, in "
                f"water from {week.at(since)}: nobody is sent",
            )


def _off_min(week: Week, surface_id: str, need: CoverNeed) -> int | None:
    done = week.done(surface_id)
    if not need.lifted_by or any(name not in done for name in need.lifted_by):
        return None
    return max(done[name].end_min for name in need.lifted_by)
