"""Crews, water and covers against their limits, for the lower half of the board."""

from collections.abc import Iterator
from datetime import timedelta

from exports.axis import Axis
from models.local_clock import LocalClock
from models.quantities import Units, duration, show
from models.records import (
    AuditReport,
    BreakTrace,
    OtherWorkTrace,
    Record,
    ShiftTrace,
    Site,
    WaterPoint,
    WaterTrace,
)

HEIGHT = 24.0


class Pause(Record):
    """A gap in a bar and its frame."""

    from_min: float
    width_min: float


class Bar(Record):
    """A filled stretch in a frame: how much of a limit is used."""

    from_min: float
    width_min: float
    used: float  # 0 to HEIGHT
    full: bool
    words: str
    pauses: tuple[Pause, ...] = ()


class LimitRow(Record):
    """One crew, water point or kind of cover.

    ``framed`` where a bar's own frame shows what it is a share of; else it is a share
    of the whole height.
    """

    label: str
    note: str
    bars: tuple[Bar, ...]
    framed: bool = False
    line: str
    spoken: str


def crew_rows(site: Site, report: AuditReport, axis: Axis) -> tuple[LimitRow, ...]:
    """Show, per crew, the share of each shift that is work or walking.

    Stretches on call are shown only where the crew was called. A gang with parties has
    a row for what it does as a whole; that counts in the rows of its parties too.
    """
    clock = LocalClock(site.timezone)
    rows = []
    for crew in site.teams:
        shifts = [
            shift
            for shift in report.shifts
            if shift.crew_id == crew.id and (shift.called_out or not shift.on_call)
        ]
        busy = sum(s.busy_min + s.travel_min for s in shifts)
        rows.append(
            LimitRow(
                label=crew.name,
                note=f"{crew.people} {'person' if crew.people == 1 else 'people'}",
                bars=tuple(_shift_bar(s, axis, clock) for s in shifts),
                framed=True,
                line="",
                spoken=f"{crew.name}: {len(shifts)} shifts, {duration(busy)} of work",
            )
        )
    return tuple(rows)


def heat_ban_rows(site: Site, report: AuditReport, axis: Axis) -> tuple[LimitRow, ...]:
    """Show when nobody works outdoors; no row where that is never."""
    if not report.heat_bans:
        return ()
    clock = LocalClock(site.timezone)
    bars = tuple(
        Bar(
            from_min=axis.minute(ban.starts_at),
            width_min=axis.minute(ban.ends_at) - axis.minute(ban.starts_at),
            used=HEIGHT,
            full=True,
            words=f"{clock.span(ban.starts_at, ban.ends_at)}: nobody works outdoors",
        )
        for ban in report.heat_bans
    )
    spoken = f"Heat ban: nobody works outdoors, {len(bars)} times"
    return (
        LimitRow(
            label="Heat ban", note="nobody works outdoors", bars=bars, framed=True,
            line="", spoken=spoken,
        ),
    )  # fmt: skip


def _shift_bar(shift: ShiftTrace, axis: Axis, clock: LocalClock) -> Bar:
    start, end = axis.minute(shift.starts_at), axis.minute(shift.ends_at)
    worked = shift.busy_min + shift.travel_min
    share = min(1.0, worked / max(1.0, end - start))
    called = "called out, " if shift.called_out else ""
    over = f", {shift.overtime_min} min overtime" if shift.overtime_min else ""
    rests = "".join(f"; break {_clock_span(p, clock)}" for p in shift.breaks)
    rests += "".join(f"; {w.doing} {_clock_span(w, clock)}" for w in shift.other_work)
    return Bar(
        from_min=start,
        width_min=end - start,
        used=HEIGHT * share,
        full=shift.overtime_min > 0,
        words=f"{clock.span(shift.starts_at, shift.ends_at)}: {called}"
        f"{duration(shift.busy_min)} work, {duration(shift.travel_min)} "
        f"walking{over}{rests}",
        pauses=tuple(_pauses(shift, axis)),
    )


def _pauses(shift: ShiftTrace, axis: Axis) -> Iterator[Pause]:
    """Leave breaks blank, and what of other work lies in the shift."""
    spans = [(pause.starts_at, pause.ends_at) for pause in shift.breaks]
    spans += [
        (max(work.starts_at, shift.starts_at), min(work.ends_at, shift.ends_at))
        for work in shift.other_work
    ]
    for starts_at, ends_at in spans:
        if starts_at < ends_at:
            from_min = axis.minute(starts_at)
            yield Pause(from_min=from_min, width_min=axis.minute(ends_at) - from_min)


def _clock_span(pause: BreakTrace | OtherWorkTrace, clock: LocalClock) -> str:
    starts, ends = clock.local(pause.starts_at), clock.local(pause.ends_at)
    return f"{starts:%H:%M}–{ends:%H:%M}"


def water_rows(site: Site, report: AuditReport, axis: Axis) -> tuple[LimitRow, ...]:
    """Show, per water point, peak flow each hour; a line for the level of a tank."""
    traces = {trace.water_point_id: trace for trace in report.water}
    return tuple(
        _water_row(point, traces[point.id], axis, site) for point in site.water_points
    )


def _water_row(
    point: WaterPoint, trace: WaterTrace, axis: Axis, site: Site
) -> LimitRow:
    clock, units = LocalClock(site.timezone), site.units
    bars = tuple(
        Bar(
            from_min=axis.minute(hour.at),
            width_min=60,
            used=HEIGHT * min(1.0, hour.peak_flow_l_min / point.flow_l_min),
            full=hour.peak_flow_l_min > 0.95 * point.flow_l_min,
            words=f"{clock.day_time(hour.at)}: {show('volume', hour.drawn_l, units)}, "
            f"peak {show('flow', hour.peak_flow_l_min, units)}",
        )
        for hour in trace.hours
        if hour.drawn_l > 0
    )
    line, note = "", f"at most {show('flow', point.flow_l_min, units)}"
    if point.daily_allotment_l:
        note += f", {show('volume', point.daily_allotment_l, units)} a day"
    for load in (load for load in point.deliveries if load.late_by_h):
        by = load.at + timedelta(hours=load.late_by_h)
        note += (
            f"; delivery due {clock.day_time(load.at)} counted on from "
            f"{clock.day_time(by)}"
        )
    lowest = ""
    if point.capacity_l:
        levels = [(h.at, h.level_l) for h in trace.hours if h.level_l is not None]
        line = " ".join(
            f"{axis.minute(at):g},{HEIGHT * (1 - level / point.capacity_l):.2f}"
            for at, level in levels
        )
        note += f"; line: level of its {show('volume', point.capacity_l, units)}"
        if levels:
            at, level = min(levels, key=lambda pair: pair[1])
            lowest = f", lowest {show('volume', level, units)} {clock.day_time(at)}"
    total = sum(hour.drawn_l for hour in trace.hours)
    return LimitRow(
        label=point.name,
        note=note,
        bars=bars,
        line=line,
        spoken=f"{point.name}: {show('volume', total, units)} drawn this week{lowest}",
    )


def cover_rows(report: AuditReport, axis: Axis, units: Units) -> tuple[LimitRow, ...]:
    """Show, per kind of cover, the area in use against the stock."""
    rows = []
    for trace in report.covers:
        top = max([trace.stock_m2, *(use.area_m2 for use in trace.in_use), 1.0])
        ends = [*(axis.minute(use.at) for use in trace.in_use[1:]), axis.length_min]
        bars = tuple(
            Bar(
                from_min=axis.minute(use.at),
                width_min=max(0.0, end - axis.minute(use.at)),
                used=HEIGHT * use.area_m2 / top,
                full=use.area_m2 > trace.stock_m2,
                words=f"{show('area', use.area_m2, units)} in use",
            )
            for use, end in zip(trace.in_use, ends, strict=True)
            if use.area_m2 > 0
        )
        stock = f"{HEIGHT * (1 - trace.stock_m2 / top):.2f}"
        most = max((use.area_m2 for use in trace.in_use), default=0.0)
        name = trace.kind.replace("_", " ")
        rows.append(
            LimitRow(
                label=name[0].upper() + name[1:],
                note=f"line: stock {show('area', trace.stock_m2, units)}",
                bars=bars,
                line=f"0,{stock} {axis.length_min},{stock}",
                spoken=f"{name}: at most {show('area', most, units)} in use",
            )
        )
    return tuple(rows)
