"""Why a surface is dry, in lines: one for each stretch of a gap, with its times."""

from datetime import datetime

from exports.text import one_line
from models.local_clock import LocalClock, ShortTimes
from models.records import Gap, Reason


def why_lines(gap: Gap, clock: LocalClock) -> tuple[str, ...]:
    """Say what stood in the way; with times where it was not the same all along."""
    if len(gap.reasons) == 1:
        return (one_line(gap.reasons[0].words),)
    times = ShortTimes(clock, gap.starts_at, gap.ends_at)
    return tuple(
        f"{times.span(reason.starts_at, reason.ends_at)}: {one_line(reason.words)}"
        for reason in gap.reasons
    )


def why(gap: Gap, clock: LocalClock) -> str:
    """Say all of it on one line."""
    return "; ".join(why_lines(gap, clock))


def why_between(gap: Gap, starts_at: datetime, ends_at: datetime) -> str:
    """Say what stands in the way for most of a gap's part between two instants."""

    def within(reason: Reason) -> float:
        first, last = max(reason.starts_at, starts_at), min(reason.ends_at, ends_at)
        return (last - first).total_seconds()

    return one_line(max(gap.reasons, key=within).words)
