"""Rules 6a to 6d: dry minutes that idle hands could have saved in their shifts."""

from tests.bench.sense.leftover import Found, Leftover
from tests.bench.sense.remedies import (
    Remedy,
    Staffing,
    redone,
    remedies,
    soonest_min,
    staffed,
)
from tests.bench.sense.verdict import Case, Verdict

_ROUNDS = 8
_LEAST_WORTH = 5.0
_LEAST_GAP_MIN = 5  # the same job done sooner has to end so long before the gap does
#: Rule, title, how it is staffed, overtime.
TIERS: tuple[tuple[str, str, Staffing, bool], ...] = (
    ("6a", "dry while idle hands stand in the shift", "plain", False),
    ("6b", "... with paid overtime", "plain", True),
    ("6c", "... with fewer people for longer", "fewer", True),
    ("6d", "... with two gangs on one job", "two", True),
)


def idle_hands(left: Leftover) -> list[Verdict]:
    """6a: no surface is dry while idle hands of the shift could wet or cover it.

    6b to 6d ask the same with overtime, with fewer people and with two gangs.
    """
    return [_tier(left, *tier) for tier in TIERS]


def _tier(
    left: Leftover, rule: str, title: str, how: Staffing, overtime: bool
) -> Verdict:
    week, cases, saved_min, worth = left.week, [], 0.0, 0.0
    for sid, first, until, bare, _ in left.gaps():
        here: list[Found] = []
        for _ in range(_ROUNDS):
            best = _best(left, (sid, first, until, bare), how, overtime)
            if best is None or best.worth < _LEAST_WORTH:
                break
            left.put_in(best, first, until, best.out)
            here.append(best)
        if here:
            saved = sum(one.saved_min for one in here)
            saved_min, worth = saved_min + saved, worth + sum(o.worth for o in here)
            one = here[0]
            who = " and ".join(team.name for team in one.teams)
            words = f"{week.label(sid)} {'bare' if bare else 'dry'} "
            words += f"{week.span(first, until)}, {saved:.0f} min could be saved: {who}"
            words += f" idle from {week.at(one.start_min)} ({one.remedy.name}, "
            cases.append(Case(one.worth, f"{words}{one.minutes} min)"))
    unit = f"{saved_min:.0f} min"
    whole = week.dry_cost or None
    return Verdict(rule, title, tuple(cases), worth, whole, unit, told=True)


def _best(
    left: Leftover, gap: tuple[str, int, int, bool], how: Staffing, overtime: bool
) -> Found | None:
    sid, first, until, bare = gap
    week, best = left.week, None
    for remedy in remedies(week, sid, first, until, bare):
        out = redone(week, remedy)
        for teams, minutes in staffed(week, remedy, how):
            within = _within(left, remedy, minutes, (first, until), bool(out))
            if within[0] > within[1]:
                continue
            spans = [
                list(
                    left.hands.openings(
                        team, remedy.work, minutes, within,
                        overtime=overtime, without=out,
                    )
                )
                for team in teams
            ]  # fmt: skip
            together = spans[0]
            for others in spans[1:]:
                together = [
                    (max(a, c), min(b, d))
                    for a, b in together
                    for c, d in others
                    if max(a, c) <= min(b, d)
                ]
            for a, b in together:
                asked = (a, b, min(max(first, a), b), min(max(first - minutes, a), b))
                for start in sorted(set(asked)):
                    saved, worth = left.saves(remedy, start, minutes, first, until)
                    if best is not None and worth <= best.worth:
                        continue
                    if saved and left.supplies.allow(remedy, start):
                        best = Found(
                            remedy, teams, start, minutes, saved, worth, worth,
                            frozenset(out),
                        )  # fmt: skip
    return best


def _within(
    left: Leftover, remedy: Remedy, minutes: int, gap: tuple[int, int], again: bool
) -> tuple[int, int]:
    """First and last start that would help; the same job done sooner may end later."""
    if remedy.fixed_min is not None:
        return remedy.fixed_min, remedy.fixed_min
    lo = soonest_min(left.week, remedy)
    if remedy.name == "re-wet":
        sid = remedy.work.surface_id
        wetted = (j.end_min for j in left.week.on[sid] if j.task.refills)
        on = left.week.courses[sid].on_min
        lo = max([lo, on or 0, *(end for end in wetted if end <= gap[0])])
    return lo, gap[1] - (_LEAST_GAP_MIN if again else minutes)
