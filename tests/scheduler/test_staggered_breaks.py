"""Breaks of gangs that share a pattern: one after the other, the same to both sides.

The solver is told them by ``methods``; the audit counts them from the site itself.
"""

from datetime import UTC, date, datetime, time, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from models.local_clock import WeekClock
from models.records import Break, Crew, Horizon, Party, ShiftPattern, Site, Weekday
from scheduler.audit.replayed.windows import crew_windows
from scheduler.methods.resources.shifts import crew_shifts
from tests.builders import MONDAY, site

DAYS: tuple[Weekday, ...] = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
DAY_MIN = 24 * 60
WEEK = Horizon(starts_at=MONDAY, ends_at=MONDAY + timedelta(days=3))
PAIRS = tuple(Party(id=f"b{n}", name=f"pair {n}", people=2) for n in (1, 2))


def gang(name: str, *shifts: str, parties: tuple[Party, ...] = ()) -> Crew:
    return Crew(
        id=name, name=name, people=4, home_zone="A", shifts=shifts, parties=parties
    )


def at(minute: int) -> time:
    return time(minute // 60 % 24, minute % 60)


def shared(pattern: ShiftPattern, *crews: Crew) -> Site:
    night = ShiftPattern(id="night", days=DAYS, starts=time(22), ends=time(6))
    return site().model_copy(update={"shifts": (pattern, night), "crews": crews})


def breaks_of(where: Site, horizon: Horizon = WEEK) -> dict[str, list[tuple[int, int]]]:
    """Breaks of each crew within its shifts, by the id of the shift."""
    return {
        shift.id: [(b.from_min, b.until_min) for b in shift.breaks]
        for shift in crew_shifts(where, horizon)
    }


def audited_breaks(where: Site, horizon: Horizon) -> dict[str, list[tuple[int, int]]]:
    """The same from the audit; what lies beyond the horizon is cut off it."""
    length = horizon.length_min
    clock = WeekClock(where.timezone, horizon)
    return {
        window.id: [
            (max(a, window.starts_min, 0), min(b, window.ends_min, length))
            for a, b in window.breaks
            if max(a, window.starts_min, 0) < min(b, window.ends_min, length)
        ]
        for window in crew_windows(where, clock)
    }


def test_each_gang_of_a_pattern_breaks_after_the_one_before_it() -> None:
    # Minute 0 is 06:00; breaks at 09:30 and 12:00. The owls work another pattern and
    # take no turn; the pairs of the second gang go with it.
    day = ShiftPattern(
        id="day", days=DAYS, starts=time(7), ends=time(17), break_stagger_min=40,
        breaks=(
            Break(starts=time(9, 30), ends=time(9, 45)),
            Break(starts=time(12), ends=time(12, 30)),
        ),
    )  # fmt: skip
    crews = gang("a", "day"), gang("owl", "night"), gang("b", "day", parties=PAIRS)
    found = breaks_of(shared(day, *crews, gang("c", "night", "day")))
    assert found["a/day/2027-05-03"] == [(210, 225), (360, 390)]
    for crew in ("b", "b1", "b2"):
        assert found[f"{crew}/day/2027-05-03"] == [(250, 265), (400, 430)]
    assert found["c/day/2027-05-03"] == [(290, 305), (440, 470)]
    assert found["owl/night/2027-05-03"] == []


def test_without_a_stagger_gangs_break_together() -> None:
    day = ShiftPattern(
        id="day", days=DAYS, starts=time(7), ends=time(17),
        breaks=(Break(starts=time(12), ends=time(12, 30)),),
    )  # fmt: skip
    found = breaks_of(shared(day, gang("a", "day"), gang("b", "day")))
    assert found["a/day/2027-05-03"] == found["b/day/2027-05-03"] == [(360, 390)]


@st.composite
def patterns(draw: st.DrawFn) -> tuple[ShiftPattern, int]:
    """A shift of any hours with a break, and as many gangs as it has room for."""
    starts, length = draw(st.integers(0, DAY_MIN - 1)), draw(st.integers(240, DAY_MIN))
    into = draw(st.integers(0, length - 60))
    long, stagger = draw(st.integers(10, 45)), draw(st.integers(0, 90))
    gangs = 1 + min(3, (length - into - long) // max(1, stagger))
    pause = Break(starts=at(starts + into), ends=at(starts + into + long))
    pattern = ShiftPattern(
        id="day", days=DAYS, starts=at(starts), ends=at(starts + length),
        breaks=(pause,), break_stagger_min=stagger,
    )  # fmt: skip
    return pattern, draw(st.integers(1, gangs))


#: A plain night, and those in which Berlin's clocks go forward and back.
NIGHTS = (date(2027, 5, 8), date(2027, 3, 27), date(2027, 10, 30))


@settings(max_examples=60, deadline=None)
@given(patterns(), st.sampled_from(NIGHTS))
def test_solver_and_audit_are_told_the_same_breaks(
    drawn: tuple[ShiftPattern, int], night: date
) -> None:
    pattern, count = drawn
    crews = [
        gang(f"g{n}", "day", parties=PAIRS if n == 1 else ()) for n in range(count)
    ]
    where = shared(pattern, gang("owl", "night"), *crews)
    start = datetime.combine(night, time(4), UTC)
    horizon = Horizon(starts_at=start, ends_at=start + timedelta(days=2))
    assert breaks_of(where, horizon) == audited_breaks(where, horizon)


@settings(max_examples=60, deadline=None)
@given(patterns())
def test_gangs_are_all_at_break_only_until_the_first_is_back(
    drawn: tuple[ShiftPattern, int],
) -> None:
    pattern, count = drawn
    crews = [gang(f"g{n}", "day") for n in range(count)]
    found = breaks_of(shared(pattern, *crews))
    spans = [found[f"{crew.id}/day/2027-05-04"][0] for crew in crews]
    first_goes, first_is_back = spans[0]
    last_goes = first_goes + (count - 1) * pattern.break_stagger_min
    assert spans[-1][0] == last_goes
    assert {b - a for a, b in spans} == {first_is_back - first_goes}
    away = set.intersection(*(set(range(a, b)) for a, b in spans))
    assert away == set(range(last_goes, first_is_back))
