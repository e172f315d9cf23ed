"""Why a surface is dry, as lines for people."""

from datetime import UTC, datetime, timedelta

from exports.why import why, why_between, why_lines
from models.local_clock import LocalClock
from models.records import Gap, Reason

BERLIN = LocalClock("Europe/Berlin")


def gap(starts_at: datetime, *stretches: tuple[int, str]) -> Gap:
    """A gap whose stretches last so many minutes, one after the other."""
    reasons, at = [], starts_at
    for minutes, words in stretches:
        ends_at = at + timedelta(minutes=minutes)
        reasons.append(
            Reason(starts_at=at, ends_at=ends_at, limit="crews_busy", words=words)
        )
        at = ends_at
    return Gap(
        surface_id="P1", starts_at=starts_at, ends_at=at, covered=True,
        reasons=tuple(reasons),
    )  # fmt: skip


FRIDAY = datetime(2027, 5, 7, 20, tzinfo=UTC)  # 22:00 in Berlin


def test_one_reason_needs_no_times() -> None:
    assert why_lines(gap(FRIDAY, (60, "nobody\n is on")), BERLIN) == ("nobody is on",)


def test_each_stretch_has_its_times() -> None:
    long = gap(FRIDAY, (540, "nobody is on"), (35, "they walk"))
    lines = ("Fri 22:00 to Sat 07:00: nobody is on", "Sat 07:00–07:35: they walk")
    assert why_lines(long, BERLIN) == lines
    assert why(long, BERLIN) == "; ".join(lines)


def test_a_stretch_over_a_change_of_clocks_keeps_its_zones() -> None:
    spring = datetime(2027, 3, 28, 0, 30, tzinfo=UTC)  # the clock jumps at 01:00 UTC
    lines = why_lines(gap(spring, (60, "one"), (60, "two")), BERLIN)
    assert lines[0] == "Sun 01:30 CET to Sun 03:30 CEST: one"


def test_what_holds_for_most_of_a_shift_is_told_on_its_sheet() -> None:
    long = gap(FRIDAY, (540, "nobody is on"), (35, "they walk"), (5, "done"))
    at = FRIDAY + timedelta(minutes=530)
    assert why_between(long, at, at + timedelta(hours=8)) == "they walk"
    assert why_between(long, at, at + timedelta(minutes=12)) == "nobody is on"
