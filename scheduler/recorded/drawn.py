"""The course of a record as it is drawn: water, visits, finds and temperatures."""

from collections.abc import Iterator
from datetime import datetime, time, timedelta

import numpy as np

from exports.axis import Axis
from exports.record.curing_record import Course, Points, Sign, Stretch
from exports.reserve import share_of
from models.quantities import measure
from models.records import Floats, Horizon, SurfaceTrace
from scheduler.happened.conditions import conditions
from scheduler.recorded.life import Life
from scheduler.recorded.limits import drawn_limits, readings_of
from scheduler.recorded.played import Week
from scheduler.recorded.visits import LETTERS
from scheduler.recorded.water import gaps_of
from scheduler.recorded.words import Words

#: A line of temperature turns slowly: a point an hour. [steps of the clock]
_EVERY_MIN = 60
#: So much is drawn after the end.
_BEYOND = timedelta(hours=6)


def course_of(life: Life, words: Words) -> Course:
    """Draw a surface from placing to the end of its curing, or of its record."""
    starts_at = life.surface.placing_starts_at
    last = max(life.until, life.credit.ends_at or life.at, starts_at)
    horizon = Horizon(starts_at=starts_at, ends_at=last + _BEYOND)
    axis = Axis(horizon, life.clock.timezone)
    site = life.book.site_input.site
    ends_at = life.credit.ends_at
    return Course(
        days=tuple(
            Sign(x_fraction=_share(day.left_pct), words=day.words)
            for day in axis.days()
            if day.left_pct > 0
        ),
        nights=_nights(axis, site.night_starts, site.night_ends),
        planned=tuple(_planned(life, axis)),
        found=_lines(
            _points(life.now.trace(life.surface_id), axis, starts_at, life.at)
        ),
        dry=tuple(
            Stretch(
                from_fraction=_x(axis, gap.starts_at),
                until_fraction=_x(axis, min(gap.ends_at, life.until)),
            )
            for gap in gaps_of(life)
        ),
        finds=tuple(
            Sign(x_fraction=_x(axis, life.found_at(entry)), words=LETTERS[condition])
            for entry, condition in conditions(life.own_entries)
        ),
        written=tuple(
            Sign(x_fraction=_x(axis, one.visit.starts_at))
            for one in life.seen
            if one.entry is not None and axis.holds(one.visit.starts_at)
        ),
        unwritten=tuple(
            Sign(x_fraction=_x(axis, one.visit.starts_at))
            for one in life.unwritten
            if axis.holds(one.visit.starts_at)
        ),
        face=_heat(
            life.now, life, axis, life.now.clocked.hydration.surface_temperature_c
        ),
        core=_heat(life.now, life, axis, life.now.clocked.hydration.core_temperature_c),
        readings=tuple(
            Sign(
                x_fraction=_x(axis, reading.at),
                value=round(_degrees(life, reading.temperature_c), 2),
                words="face" if reading.place == "surface" else "core",
            )
            for reading in readings_of(life)
            if axis.holds(reading.at)
        ),
        limits=drawn_limits(life, words),
        unit=measure("exact temperature", words.units).unit,
        until_fraction=_x(axis, life.at),
        ends_fraction=None if ends_at is None else _x(axis, ends_at),
        spoken=_spoken(life, words),
    )


def _spoken(life: Life, words: Words) -> str:
    """Say what the picture shows to whoever cannot see it."""
    ends_at = life.credit.ends_at
    end = "not in the time that is known" if ends_at is None else words.when(ends_at)
    dry = "; ".join(words.span(g.starts_at, g.ends_at) for g in gaps_of(life))
    return (
        f"Water in the cover and temperatures of {life.surface.label} from placing to "
        f"{words.when(life.at)}. Dry: {dry or 'never'}. End of curing: {end}. The "
        "tables of this record hold the same."
    )


def _planned(life: Life, axis: Axis) -> Iterator[Points]:
    """Give the water planned by each issue while it counted."""
    weeks = life.planned
    for number, (since, week) in enumerate(weeks):
        first = axis.starts_at if number == 0 else since
        last = weeks[number + 1][0] if number + 1 < len(weeks) else axis.ends_at
        yield from _lines(_points(week.trace(life.surface_id), axis, first, last))


def _points(
    trace: SurfaceTrace, axis: Axis, first: datetime, last: datetime
) -> Iterator[tuple[float, float]]:
    for point in trace.points:
        if first <= point.at <= last and axis.holds(point.at):
            yield _x(axis, point.at), round(share_of(trace, point), 4)


def _lines(points: Iterator[tuple[float, float]]) -> tuple[Points, ...]:
    line = tuple(points)
    return (line,) if len(line) > 1 else ()


def _heat(week: Week, life: Life, axis: Axis, values_c: Floats) -> Points:
    grid, column = week.clocked.hydration.grid, week.column(life.surface_id)
    every = max(1, _EVERY_MIN // grid.step_min)
    first = max(0, grid.step(life.surface.placing_ends_at) + 1)
    last = min(grid.steps, grid.step(life.until) + 1)
    return tuple(
        (
            _x(axis, grid.at(step)),
            round(_degrees(life, float(values_c[step, column])), 2),
        )
        for step in range(first, last, every)
        if not np.isnan(values_c[step, column])
    )


def _degrees(life: Life, value_c: float) -> float:
    units = life.book.site_input.site.units
    return measure("exact temperature", units).shown(value_c)


def _nights(axis: Axis, starts: time, ends: time) -> tuple[Stretch, ...]:
    return tuple(
        Stretch(
            from_fraction=_share(night.left_pct),
            until_fraction=_share(night.left_pct + night.width_pct),
        )
        for night in axis.nights(starts, ends)
    )


def _x(axis: Axis, at: datetime) -> float:
    return _share(axis.pct(at))


def _share(pct: float) -> float:
    return round(pct / 100, 5)
