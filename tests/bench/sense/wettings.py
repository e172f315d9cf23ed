"""Rules 4a, 5 and 11b: wettings that save nothing, crumbs, and wettings too late."""

from collections import Counter
from collections.abc import Iterator

import numpy as np

from scheduler.audit.replayed.jobs import Job
from tests.bench.sense.verdict import Case, Verdict, counted
from tests.bench.sense.week import Week

_NEARLY_FULL = 0.8
_CRUMB_L, _CRUMB_M2 = 10.0, 5.0
_EMPTY = 1e-6


def _rewets(week: Week) -> list[Job]:
    return [job for job in week.jobs if job.is_rewet]


def _left(week: Week, job: Job) -> float:
    return float(week.courses[job.work.surface_id].left[job.start_min])


def needless(week: Week) -> Verdict:
    """4a: no cover with 80 % of its water is wetted unless that saves a dry minute."""
    rewets = _rewets(week)
    return counted(
        "4a", "wettings of full covers that save nothing", _needless(week), len(rewets)
    )


def _needless(week: Week) -> Iterator[Case]:
    for job in _rewets(week):
        left, sid = _left(week, job), job.work.surface_id
        if left < _NEARLY_FULL:
            continue
        without = week.follow(sid, [one for one in week.on[sid] if one is not job])
        if without.thirsty.sum() <= week.courses[sid].thirsty.sum():
            yield Case(
                left,
                f"{week.who(job)}, {week.at(job.start_min)}: {job.work.label}, "
                f"{100 * left:.0f} % left, {job.end_min - job.start_min} min",
            )


def crumbs(week: Week) -> Verdict:
    """5: few visits bring less than 10 L, or go to less than 5 m², to wet again."""
    small: Counter[tuple[str, str]] = Counter()
    for job in _rewets(week):
        litres = job.task.water.litres_l if job.task.water else 0
        if litres < _CRUMB_L or job.work.area_m2 < _CRUMB_M2:
            small[week.who(job), week.clock.day_words(job.start_min)] += 1
    return Verdict(
        "5",
        "crumbs: wettings of < 10 L or < 5 m²",
        tuple(Case(n, f"{who}, {day}: {n} of them") for (who, day), n in small.items()),
        amount=sum(small.values()),
        whole=len(week.jobs),
        most=0.05,
    )


def wetted_when_dry(week: Week) -> Verdict:
    """11b: few wettings start when their cover is dry already."""
    return counted(
        "11b",
        "wettings that come when the cover is dry",
        _too_late(week),
        whole=len(_rewets(week)),
        most=0.1,
    )


def _too_late(week: Week) -> Iterator[Case]:
    for job in _rewets(week):
        course = week.courses[job.work.surface_id]
        if course.on_min is None or job.start_min < course.on_min:
            continue
        wet = np.flatnonzero(course.left[course.on_min : job.start_min + 1] > _EMPTY)
        since = course.on_min + (int(wet[-1]) + 1 if len(wet) else 0)
        if since <= job.start_min:
            yield Case(
                job.start_min - since,
                f"{job.work.label}: dry since {week.at(since)}, wetted "
                f"{week.at(job.start_min)} ({week.who(job)})",
            )
