"""Rule 7f: what idle hands would lay, strip by strip, of what nobody begins.

An estimate: work pauses for breaks and bans, goes on with the next shift and may be
left half done; whoever comes to it loses some minutes first. Where fog is given up for
it, the part that is not laid yet counts as drying.
"""

from collections import Counter
from collections.abc import Collection, Iterator
from dataclasses import dataclass

from scheduler.audit.replayed.windows import CrewWindow
from tests.bench.sense.course import weight_by_minute
from tests.bench.sense.leftover import Leftover
from tests.bench.sense.remedies import Remedy, remedies, soonest_min
from tests.bench.sense.room import LESSER
from tests.bench.sense.verdict import Case, Verdict

_COMING_MIN = 10  # the walk, the trolley
_CRUMB_L = 10.0
_SET_UP_MIN = 6
_LEAST_WORTH = 100.0


@dataclass(frozen=True)
class _Laid:
    worth: float = _LEAST_WORTH
    saved_min: float = 0.0
    share: float = 0.0
    minutes: tuple[tuple[int, str], ...] = ()


def strips(left: Leftover) -> Verdict:
    """7f: a bare surface is begun in strips by hands idle or at trifles."""
    week, used = left.week, set[tuple[int, str]]()
    cases, saved, worth = [], 0.0, 0.0
    trifles = {job.visit.id for job in week.jobs if job.task.kind in LESSER}
    trifles |= {
        job.visit.id
        for job in week.jobs
        if job.is_rewet and job.task.water and job.task.water.litres_l < _CRUMB_L
    }
    for sid, first, until, bare, _ in left.gaps():
        if not bare:
            continue
        for remedy in remedies(week, sid, first, until, bare):
            if remedy.name != "lay":
                continue
            if not left.supplies.allow(remedy, soonest_min(week, remedy)):
                continue
            fog = {j.visit.id for j in week.on[sid] if j.task.kind == "fog"}
            best = _Laid()
            for given_up in (set[str](), fog):
                laid = _lay(left, remedy, (first, until), used, trifles, given_up)
                best = max(best, laid, key=lambda one: one.worth)
            if best.share:
                used.update(best.minutes)
                saved, worth = saved + best.saved_min, worth + best.worth
                words = f"{week.label(sid)} bare {week.span(first, until)}: idle hands "
                words += f"lay {100 * best.share:.0f} % of it by then, worth "
                cases.append(Case(best.worth, f"{words}{best.saved_min:.0f} min"))
    return Verdict(
        "7f", "... laid in strips, begun unfinished", tuple(cases), worth,
        week.dry_cost or None, f"{saved:.0f} min", told=True,
    )  # fmt: skip


def _lay(
    left: Leftover,
    remedy: Remedy,
    gap: tuple[int, int],
    used: Collection[tuple[int, str]],
    trifles: Collection[str],
    given_up: Collection[str],
) -> _Laid:
    """Lay as much as those can who are idle, minute by minute."""
    week, sid = left.week, remedy.work.surface_id
    bare_cost = weight_by_minute(remedy.work.fresh_weights, week.length_min)
    wanted = sum((t.duration_min - _SET_UP_MIN) * t.people for t in remedy.tasks)
    wanted = max(1, wanted)
    first = soonest_min(week, remedy)
    done, worth, saved = 0.0, 0.0, 0.0
    mine: list[tuple[int, str]] = []
    there: Counter[str] = Counter()
    shifts = list(_shifts(left, remedy))
    for minute in range(first if given_up else max(gap[0], first), gap[1]):
        people, fogged = 0, False
        for window in shifts:
            name = window.crew.id
            if not window.starts_min <= minute < window.closes_min:
                continue
            if (minute, name) in used:
                continue
            at = [
                spell.visit_id
                for spell in left.hands.busy[name]
                if spell.start_min <= minute < spell.end_min
            ]
            pauses = (*window.breaks, *week.bans)
            if any(a <= minute < b for a, b in pauses) or any(
                one not in trifles and one not in given_up for one in at
            ):
                there[window.id] = 0
                continue
            there[window.id] += 1
            fogs = any(one in given_up for one in at)
            if there[window.id] <= _COMING_MIN and not fogs:
                continue
            fogged |= fogs
            people += window.crew.people
            mine.append((minute, name))
        done = min(wanted, done + min(people, 2 * remedy.people))
        share = done / wanted
        if left.left[sid][minute] > 0:
            worth += share * float(week.courses[sid].cost[minute])
            saved += share
        elif fogged and minute < week.courses[sid].counted_until_min:
            worth -= (1 - share) * float(bare_cost[minute])
    return _Laid(worth, saved, done / wanted, tuple(mine))


def _shifts(left: Leftover, remedy: Remedy) -> Iterator[CrewWindow]:
    """Shifts of single hands of two or more with the skill."""
    skills = {skill for task in remedy.tasks for skill in task.skills}
    for window in left.week.windows:
        crew = window.crew
        able = skills <= set(crew.skills) and crew.people > 1
        if able and len(crew.hands) == 1 and not window.pattern.on_call:
            yield window
