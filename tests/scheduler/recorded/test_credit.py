"""Time that counts as curing: by hand, after a dry find, and never more than passed."""

from datetime import timedelta
from functools import cache

import pytest
from hypothesis import given as drawn
from hypothesis import settings
from hypothesis import strategies as st

from models.records import Found, Gap
from scheduler.recorded.credit import credit_of
from scheduler.recorded.life import Life
from tests.scheduler.recorded.recorded_builders import (
    PLACED,
    TOP,
    all_done,
    at,
    covers_off,
    entry,
    life,
    planned,
)

HOUR = timedelta(hours=1)


@cache
def quiet() -> Life:
    """Everything done as planned and written down, Wednesday 18:00."""
    return life(all_done())


def test_three_damp_days_end_three_days_after_placing() -> None:
    credit = quiet().credit
    assert credit.ends_at == PLACED + timedelta(days=3)
    assert credit.added_min == 0
    assert credit.credited_min == credit.elapsed_min == 3 * 24 * 60
    assert quiet().is_over
    assert quiet().until == PLACED + timedelta(days=3)


def test_half_way_all_that_passed_is_credited() -> None:
    credit = life(all_done(), hours=17).credit  # Monday 23:00
    assert credit.credited_min == credit.elapsed_min == 36 * 60
    (days,) = credit.criteria
    assert days.fraction == pytest.approx(0.5)
    assert not days.is_met


def test_dry_hours_are_added_at_the_end() -> None:
    """Covers off from Tuesday 08:00 to 10:00, wetted again by the re-wet of 13:00."""
    now = life(covers_off())
    (gap,) = now.gaps
    # A cover that is away loses all its water; it is dry until the middle of the
    # re-wet that begins at 13:00 on Tuesday, hour 31.
    assert at(26) <= gap.starts_at < at(28)
    rewet = now.tasks[f"{TOP}/rewet"]
    assert gap.ends_at == at(31) + timedelta(minutes=rewet.duration_min // 2)
    # Steps of ten minutes with a dry minute in them do not count.
    steps = _steps(gap)
    assert now.credit.added_min == 10 * steps
    assert now.credit.ends_at == PLACED + timedelta(days=3, minutes=10 * steps)


def _steps(gap: Gap) -> int:
    """Count the steps of ten minutes that a gap touches."""
    first = int((gap.starts_at - PLACED) / timedelta(minutes=10))
    last = -int(-((gap.ends_at - PLACED) / timedelta(minutes=10)) // 1)
    return last - first


def test_a_dry_find_adds_the_time_until_it_was_wetted() -> None:
    """Found dry on Tuesday at 11:00 though it should be wet; wetted at 13:00."""
    entries = all_done(but=(6,))
    of = planned()
    late = next(v for v in of.visits if v.id == f"{TOP}/rewet/6")  # Tuesday 13:00
    assert late.starts_at == at(31)
    entries.append(entry(len(entries) + 1, 29, Found(condition="dry")))
    now = life(entries)
    (gap,) = now.gaps
    # The clock is made to meet the find: dry at 11:00, within its step of ten minutes.
    assert at(29) - timedelta(minutes=10) <= gap.starts_at <= at(29)
    assert now.credit.added_min == 10 * _steps(gap)
    # 11:00 to the middle of the re-wet of 13:00: two hours and a half of its minutes
    least = 120 + now.tasks[f"{TOP}/rewet"].duration_min // 2
    assert least <= (now.credit.added_min or 0) <= least + 20


def test_what_nobody_wrote_is_credited_apart() -> None:
    unwritten = life()
    assert unwritten.credit.added_min == 0
    assert len(unwritten.unwritten) == len(unwritten.seen) > 0
    # By what was written alone nobody wetted it after Monday 05:30.
    alone = unwritten.written_credit
    assert alone.credited_min < unwritten.credit.credited_min
    assert quiet().written_credit.credited_min == quiet().credit.credited_min


GAPS = st.lists(st.tuples(st.integers(0, 60 * 60), st.integers(1, 12 * 60)), max_size=6)


@settings(deadline=None, max_examples=60)
@drawn(gaps=GAPS, hours=st.integers(-18, 80))
def test_credited_time_never_exceeds_elapsed_time(
    gaps: list[tuple[int, int]], hours: int
) -> None:
    credit = credit_of(quiet().now, TOP, _gaps(gaps), at(hours))
    assert 0 <= credit.credited_min <= credit.elapsed_min
    fewer = credit_of(quiet().now, TOP, _gaps(gaps[1:]), at(hours))
    assert credit.credited_min <= fewer.credited_min
    if credit.ends_at is not None:
        assert credit.damp_ends_at is not None
        assert credit.ends_at >= credit.damp_ends_at


def _gaps(gaps: list[tuple[int, int]]) -> list[Gap]:
    return [
        Gap(
            surface_id=TOP, starts_at=at(start / 60),
            ends_at=at((start + length) / 60), covered=True,
        )
        for start, length in gaps
    ]  # fmt: skip
