"""Labels of events above a chart, in rows so that none lies on another."""

from datetime import datetime

from exports.axis import Axis
from exports.clocks.frame import LETTER_PX, RIGHT_PX, WIDTH_PX, x_px
from models.local_clock import LocalClock
from models.records import EventWindow, Record, SurfaceEvents

_GAP_PX = 12.0


class EventMark(Record):
    """A line down from its label; ``early_px`` to ``late_px`` is when it may come."""

    words: str
    spoken: str
    row: int
    x: float
    text_x: float
    anchor: str
    early_px: float
    late_px: float
    line: bool


class EventRow(Record):
    """An event for the table under the chart."""

    name: str
    expected: str
    window: str


def named_events(events: SurfaceEvents) -> list[tuple[str, EventWindow]]:
    """Take the events that are known, in the order in which they come."""
    all_events = [
        ("sheen gone", events.sheen_gone),
        ("can be covered", events.takes_cover),
        ("firm underfoot", events.bears_people),
        ("curing ends", events.curing_ends),
    ]
    return [(name, window) for name, window in all_events if window]


def event_rows(events: SurfaceEvents, clock: LocalClock) -> tuple[EventRow, ...]:
    """Say every event with its window, this week or not."""
    rows = [
        EventRow(
            name=name,
            expected=clock.day_time(window.expected_at),
            window=""
            if window.earliest_at == window.latest_at
            else clock.span(window.earliest_at, window.latest_at),
        )
        for name, window in named_events(events)
    ]
    if events.curing_ends is None:
        rows.append(
            EventRow(name="curing ends", expected="after the forecast ends", window="")
        )
    return tuple(rows)


def event_marks(
    events: SurfaceEvents, axis: Axis, clock: LocalClock
) -> tuple[EventMark, ...]:
    """Place the events of the week; curing that ends later is said at the edge."""
    together: dict[datetime, list[tuple[str, EventWindow]]] = {}
    for name, window in named_events(events):
        if axis.holds(window.expected_at):
            together.setdefault(window.expected_at, []).append((name, window))
    marks: list[EventMark] = []
    for at in sorted(together):
        names = ", ".join(name for name, _ in together[at])
        # A face out of its forms is ready for everything at once; one word will do.
        label = names if len(together[at]) < 3 else "can be covered"
        earliest = min(window.earliest_at for _, window in together[at])
        latest = max(window.latest_at for _, window in together[at])
        spoken = f"{names}: {clock.day_time(at)}"
        if earliest != latest:
            spoken += f", at the earliest {clock.day_time(earliest)}, at the latest "
            spoken += clock.day_time(latest)
        marks.append(
            _placed(
                f"{label} {clock.time(at)}", spoken, x_px(axis, at),
                x_px(axis, earliest), x_px(axis, latest), True, marks,
            )
        )  # fmt: skip
    ends = events.curing_ends
    if ends is None or ends.expected_at > axis.ends_at:
        words = f"curing ends {clock.day_time(ends.expected_at)} →" if ends else ""
        words = words or "curing ends after the forecast →"
        marks.append(_placed(words, words, RIGHT_PX, RIGHT_PX, RIGHT_PX, False, marks))
    return tuple(marks)


def _placed(
    words: str,
    spoken: str,
    x: float,
    early_px: float,
    late_px: float,
    line: bool,
    before: list[EventMark],
) -> EventMark:
    """Put a label in the first row where it is clear of those before it."""
    width = LETTER_PX * len(words)
    leftwards = not line or x + width > WIDTH_PX
    row = 0
    left, right = (x - width - 4, x) if leftwards else (x, x + width + 4)
    while any(
        mark.row == row
        and left < _extent(mark)[1] + _GAP_PX
        and _extent(mark)[0] - _GAP_PX < right
        for mark in before
    ):
        row += 1
    return EventMark(
        words=words, spoken=spoken, row=row, x=x,
        text_x=round(x - 4 if leftwards else x + 4, 1),
        anchor="end" if leftwards else "start",
        early_px=early_px, late_px=late_px, line=line,
    )  # fmt: skip


def _extent(mark: EventMark) -> tuple[float, float]:
    width = LETTER_PX * len(mark.words) + 4
    return (
        (mark.x - width, mark.x) if mark.anchor == "end" else (mark.x, mark.x + width)
    )
