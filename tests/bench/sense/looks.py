"""Rules 3a and 3b: looks that tell nothing new."""

from collections.abc import Iterator
from itertools import pairwise

from scheduler.audit.replayed.jobs import Job
from tests.bench.sense.verdict import Case, Verdict, counted
from tests.bench.sense.week import Week

_APART_MIN = 90
_BESIDE_MIN = 30
_LOOKS = frozenset({"inspect", "read_temperature", "check_level"})


def is_look(job: Job) -> bool:
    """Whether somebody only looks and reads."""
    return job.task.kind in _LOOKS


def _looks(week: Week) -> int:
    return sum(map(is_look, week.jobs))


def looks_apart(week: Week) -> Verdict:
    """3a: two looks at one surface lie at least 90 minutes apart."""
    return counted("3a", "two looks within 90 min", _close(week), whole=_looks(week))


def _close(week: Week) -> Iterator[Case]:
    for jobs in week.on.values():
        for one, other in pairwise(filter(is_look, jobs)):
            apart = other.start_min - one.end_min
            if apart < _APART_MIN:
                yield Case(
                    _APART_MIN - apart,
                    f"{one.work.label}: {one.task.title.lower()} "
                    f"{week.at(one.start_min)} ({week.who(one)}), "
                    f"{other.task.title.lower()} {week.at(other.start_min)} "
                    f"({week.who(other)})",
                )


def looks_beside_wetting(week: Week) -> Verdict:
    """3b: nobody looks at a surface within 30 minutes of wetting it himself."""
    return counted(
        "3b",
        "a look beside the own wetting",
        _beside(week),
        whole=_looks(week),
        most=0.02,
    )


def _beside(week: Week) -> Iterator[Case]:
    for jobs in week.on.values():
        for look in filter(is_look, jobs):
            for wet in jobs:
                away = max(look.start_min - wet.end_min, wet.start_min - look.end_min)
                own = _same_hands(week, look, wet)
                if wet is not look and wet.task.refills and own and away < _BESIDE_MIN:
                    yield Case(
                        1,
                        f"{week.who(look)}, {look.work.label}: "
                        f"{wet.task.title.lower()} "
                        f"{week.span(wet.start_min, wet.end_min)}, look "
                        f"{week.at(look.start_min)}",
                    )
                    break


def _same_hands(week: Week, one: Job, other: Job) -> bool:
    """Whether the same gang, or a party of it, does both."""
    gangs = [
        team.gang_id if team else job.visit.crew_id
        for job in (one, other)
        for team in [week.teams.get(job.visit.crew_id)]
    ]
    return gangs[0] == gangs[1]
