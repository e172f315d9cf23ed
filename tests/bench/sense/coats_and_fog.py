"""Rules 9a and 9b: compound in one go, fog without holes."""

from collections.abc import Iterator
from itertools import pairwise

from scheduler.audit.replayed.jobs import Job
from tests.bench.sense.verdict import Case, Verdict, counted
from tests.bench.sense.week import Week

_COATS_WITHIN_MIN = 240
_HOLE_MIN = 5


def second_coats(week: Week) -> Verdict:
    """9a: the second coat of compound comes within four hours of the first."""
    first = sum(bool(_coats(jobs, 1)) for jobs in week.on.values())
    return counted("9a", "second coat > 4 h after the first", _late(week), first)


def _coats(jobs: list[Job], coat: int) -> list[Job]:
    return [job for job in jobs if f"coat {coat}" in job.task.title.lower()]


def _late(week: Week) -> Iterator[Case]:
    for sid, jobs in week.on.items():
        first, second = _coats(jobs, 1), _coats(jobs, 2)
        asked = any("coat 2" in t.title.lower() for t in week.works[sid].tasks)
        if not first or not asked:
            continue
        ended = max(job.end_min for job in first)
        starts = min((job.start_min for job in second), default=week.length_min)
        if starts - ended > _COATS_WITHIN_MIN:
            words = week.at(starts) if second else "never"
            yield Case(
                starts - ended,
                f"{week.label(sid)}: coat 1 ends {week.at(ended)}, coat 2 {words}; "
                f"{(starts - ended) / 60:.1f} h",
            )


def fog_holes(week: Week) -> Verdict:
    """9b: between two spells of fog no surface dries for five minutes or more."""
    holes = list(_holes(week))
    unit = f"{sum(case.bad for case in holes):.0f} min"
    return counted("9b", "holes in the fogging", holes, unit=unit)


def _holes(week: Week) -> Iterator[Case]:
    for sid, jobs in week.on.items():
        bare = week.courses[sid].bare
        fog = [job for job in jobs if job.task.kind == "fog"]
        for one, other in pairwise(fog):
            hole = float(bare[one.end_min : max(one.end_min, other.start_min)].sum())
            if hole >= _HOLE_MIN:
                yield Case(
                    hole,
                    f"{week.label(sid)}: fogged until {week.at(one.end_min)}, again "
                    f"from {week.at(other.start_min)}, {hole:.0f} min drying",
                )
