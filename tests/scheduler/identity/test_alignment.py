"""Visits of one duty in two rosters, paired in order of time."""

from collections.abc import Iterator
from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from models.records import Told
from scheduler.identity.alignment import OTHER_CREW_MIN, aligned
from tests.scheduler.identity.identity_builders import told

HALF_A_DAY = 720


def starts(*minutes: int) -> list[Told]:
    return [told(minute) for minute in minutes]


def test_what_stands_is_never_paired_with_another() -> None:
    """To pair 600-630 and 630-660 would leave none out, and rename one that stands."""
    assert aligned(starts(600, 630), starts(630, 660), HALF_A_DAY) == ((1, 0),)


def test_a_day_that_slips_slips_in_order() -> None:
    was, now = starts(600, 780, 960), starts(660, 840, 1020)
    assert aligned(was, now, HALF_A_DAY) == ((0, 0), (1, 1), (2, 2))


def test_further_than_the_furthest_is_no_pair() -> None:
    assert aligned(starts(0), starts(240), 240) == ((0, 0),)
    assert aligned(starts(0), starts(241), 240) == ()


def test_one_dropped_is_the_one_that_is_missing() -> None:
    assert aligned(starts(0, 100, 200), starts(10, 205), 240) == ((0, 0), (2, 1))


def test_the_same_crew_half_an_hour_away_goes_before_another_at_the_time() -> None:
    was = [told(600, "red")]
    now = [told(600, "blue"), told(600 + OTHER_CREW_MIN - 1, "red")]
    assert aligned(was, now, 240) == ((0, 1),)


def test_of_two_at_one_minute_the_unchanged_one_is_kept() -> None:
    was = [told(600, what="COVER 2/2")]
    now = [told(600, what="COVER 1/2"), told(600, what="COVER 2/2")]
    assert aligned(was, now, 240) == ((0, 1),)
    assert aligned(now, was, 240) == ((1, 0),)


def test_two_crews_at_one_minute_keep_their_own() -> None:
    was = [told(600, "red", people=2), told(600, "blue", people=3)]
    now = [told(600, "blue", people=4), told(600, "red", people=1)]
    assert sorted(aligned(was, now, 240)) == [(0, 1), (1, 0)]


ONE = st.builds(told, st.integers(0, 30).map(lambda n: 20 * n), st.sampled_from("ab"))


def ranked(
    was: list[Told], now: list[Told], pairs: tuple[tuple[int, int], ...], furthest: int
) -> tuple[int, int, float]:
    """Visits of which nothing changed, those that stand, and the minutes of the rest.

    A single visit counts half of the furthest, a pair no more than two single ones.
    """
    unchanged = stand = 0
    minutes = (len(was) + len(now) - 2 * len(pairs)) * furthest / 2
    for i, j in pairs:
        old, new = was[i], now[j]
        apart = abs((new.starts_at - old.starts_at).total_seconds()) / 60
        other = OTHER_CREW_MIN if old.crew_id != new.crew_id else 0
        unchanged += old == new
        stand += old != new and not apart and not other
        minutes += min(apart + other, furthest)
    return -unchanged, -stand, minutes


def every_matching(
    was: list[Told], now: list[Told], furthest: int, i: int = 0, least: int = 0
) -> Iterator[tuple[tuple[int, int], ...]]:
    """All pairings of visits sorted by time in which none cross."""
    if i == len(was):
        yield ()
        return
    yield from every_matching(was, now, furthest, i + 1, least)
    for j in range(least, len(now)):
        if abs((now[j].starts_at - was[i].starts_at).total_seconds()) <= furthest * 60:
            for rest in every_matching(was, now, furthest, i + 1, j + 1):
                yield ((i, j), *rest)


@given(st.lists(ONE, max_size=5), st.lists(ONE, max_size=5), st.sampled_from([60, 240]))
def test_no_pairing_in_order_of_time_is_cheaper(
    was: list[Told], now: list[Told], furthest: int
) -> None:
    was.sort(key=lambda each: (each.starts_at, each.crew_id))
    now.sort(key=lambda each: (each.starts_at, each.crew_id))
    best = min(
        ranked(was, now, pairs, furthest)
        for pairs in every_matching(was, now, furthest)
    )
    found = aligned(was, now, furthest)
    assert ranked(was, now, found, furthest) == best
    assert list(found) == sorted(found)
    assert all(one[1] < other[1] for one, other in pairwise(found))
