"""Rules 10, 12, 13a and standing by: hours, walks and hands as people work them."""

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from datetime import date
from itertools import pairwise

from scheduler.audit.checks.crews import walks
from scheduler.audit.replayed.jobs import Job
from scheduler.audit.replayed.parties import Turn, same_shift
from scheduler.audit.replayed.windows import CrewWindow
from tests.bench.sense.verdict import Case, Verdict, counted
from tests.bench.sense.week import Week

_DAY_MOST_MIN = 12 * 60
_CALL_OUT_MOST_MIN = 8 * 60
_WEEK_MOST_MIN = 48 * 60
_WITHOUT_REST_MIN = 6 * 60
_REST_MIN = 30
_THERE_AND_BACK = 3
_WALKING = 0.15


def long_hours(week: Week) -> Verdict:
    """10: no shift over 12 h, call-out over 8 h, 6 h without a rest, week over 48 h."""
    cases = [*_long_days(week), *_long_weeks(week), *_without_rest(week)]
    return counted("10", "hours that nobody should work", cases)


def _gang_shifts(week: Week) -> Iterator[tuple[CrewWindow, list[Job]]]:
    """Yield each shift of a gang, with all that it or a party of it does in it."""
    for window in week.windows:
        if window.crew.id == window.crew.gang_id:
            yield (
                window,
                [
                    job
                    for other, jobs in week.turns
                    if other is not None and same_shift(other, window)
                    for job in jobs
                ],
            )


def _there(window: CrewWindow, jobs: Sequence[Job]) -> tuple[int, int] | None:
    """First and last minute of a gang in a shift; None for a call-out that is not."""
    last = max((job.end_min for job in jobs), default=0)
    if not window.pattern.on_call:
        return window.starts_min, max(window.ends_min, last)
    return (min(job.start_min for job in jobs), last) if jobs else None


def _breaks_min(window: CrewWindow) -> int:
    return sum(until - first for first, until in window.breaks)


def _long_days(week: Week) -> Iterator[Case]:
    for window, jobs in _gang_shifts(week):
        if (there := _there(window, jobs)) is None:
            continue
        length, called = there[1] - there[0], window.pattern.on_call
        most = _CALL_OUT_MOST_MIN if called else _DAY_MOST_MIN
        if length > most:
            what = "call-out" if called else "shift"
            words = f"{window.crew.name}: {week.span(*there)}, {length / 60:.1f} h"
            yield Case(length, f"{words} in one {what}")


def _long_weeks(week: Week) -> Iterator[Case]:
    hours: dict[tuple[str, date], int] = defaultdict(int)
    for window, jobs in _gang_shifts(week):
        if (there := _there(window, jobs)) is not None:
            unpaid = 0 if window.pattern.on_call else _breaks_min(window)
            hours[window.crew.name, window.monday] += there[1] - there[0] - unpaid
    for (name, monday), minutes in hours.items():
        if minutes > _WEEK_MOST_MIN:
            words = f"{name}: {minutes / 60:.1f} h in the week of {monday}"
            yield Case(minutes, words)


def _hand_turns(week: Week) -> Iterator[tuple[str, Turn]]:
    for hand, turns in week.by_hand.items():
        name = week.teams[hand].name if hand in week.teams else hand
        yield from ((name, turn) for turn in turns)


def _without_rest(week: Week) -> Iterator[Case]:
    for name, (window, jobs) in _hand_turns(week):
        waits = [
            (one.end_min, other.start_min)
            for one, other in pairwise(jobs)
            if other.start_min - one.end_min >= _REST_MIN
        ]
        breaks = () if window is None else window.breaks
        since, last = jobs[0].start_min, max(job.end_min for job in jobs)
        worst = (0, 0, 0)
        for first, until in [*sorted((*breaks, *week.bans, *waits)), (last, last)]:
            if since <= first <= last:
                worst = max(worst, (first - since, since, first))
            since = max(since, until) if first <= last else since
        if worst[0] > _WITHOUT_REST_MIN:
            yield Case(
                worst[0],
                f"{name}: {week.span(*worst[1:])}, {worst[0] / 60:.1f} h without a "
                "break or 30 min of rest",
            )


def walking(week: Week) -> Verdict:
    """12: no shift goes to and fro > 3 times or spends over 15 % of it walking."""
    cases, walked = [], 0
    for name, (window, jobs) in _hand_turns(week):
        if window is None:
            continue
        on_foot = sum(needed for needed, _ in walks(week.site, window, jobs))
        walked += on_foot
        zones = [job.work.zone_id for job in jobs]
        turns = Counter(
            tuple(sorted((a, b)))
            for a, b, c in zip(zones, zones[1:], zones[2:], strict=False)
            if a == c != b
        )
        day = week.clock.day_words(window.starts_min)
        if turns:
            (pair, count) = turns.most_common(1)[0]
            if count / 2 > _THERE_AND_BACK:
                words = f"{name}, {day}: {count / 2:g} times there and back between "
                cases.append(Case(count / 2, words + " and ".join(pair)))
        length = window.ends_min - window.starts_min - _breaks_min(window)
        if not window.pattern.on_call and on_foot > _WALKING * length:
            cases.append(Case(1, f"{name}, {day}: {on_foot} min of walking"))
    unit = f"{walked} min walked"
    return counted("12", "to and fro, much walking", cases, unit=unit)


def idle_hours(week: Week) -> Verdict:
    """13a: worker-hours of the shifts in which hands neither work nor walk (told)."""
    paid: Counter[str] = Counter()
    busy: Counter[str] = Counter()
    people = {team.id: team.people for team in week.site.teams}
    names = {team.id: week.teams[team.gang_id].name for team in week.site.teams}
    for window, _ in _gang_shifts(week):
        if not window.pattern.on_call:
            first, until = max(0, window.starts_min), window.ends_min
            length = max(0, min(until, week.length_min) - first - _breaks_min(window))
            paid[window.crew.name] += length * window.crew.people
    for hand, turns in week.by_hand.items():
        for turn, jobs in turns:
            if turn is not None and not turn.pattern.on_call:
                at_work = sum(job.end_min - job.start_min for job in jobs)
                at_work += sum(needed for needed, _ in walks(week.site, turn, jobs))
                busy[names[hand]] += at_work * people[hand]
    idle = {name: max(0, paid[name] - busy[name]) for name in paid}
    cases = tuple(
        Case(idle[name] / paid[name], f"{name}: {100 * idle[name] / paid[name]:.0f} %")
        for name in paid
        if paid[name]
    )
    return Verdict(
        "13a", "idle worker-hours of shifts", cases,
        round(sum(idle.values()) / 60), sum(paid.values()) / 60 or None, "h", told=True,
    )  # fmt: skip


def standing_by(week: Week) -> Verdict:
    """Standing by: at work under 25 % of the worker-minutes are more than it takes."""
    whole, spare = 0, 0
    by_title: Counter[str] = Counter()
    for job in week.jobs:
        crew = week.teams.get(job.visit.crew_id)
        if crew is None:
            continue
        minutes = job.end_min - job.start_min
        more = max(0, crew.people - job.task.people) * minutes
        whole += crew.people * minutes
        spare += more
        by_title[f"{crew.name}: {job.task.title.lower()}"] += more
    cases = tuple(
        Case(n, f"{words}, {n / 60:.1f} worker-hours") for words, n in by_title.items()
        if n
    )  # fmt: skip
    title = "people standing by at work"
    hours = (spare / 60, whole / 60 or None)
    return Verdict("standing", title, cases, *hours, "h", most=0.25)
