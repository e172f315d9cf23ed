"""Water in the cover, and when there was none: dry gaps, why, and what was done."""

from collections.abc import Iterator
from datetime import datetime, timedelta

from exports.record.curing_record import Row, Section
from exports.reserve import phase_at, share_at
from exports.text import one_line
from exports.why import why_between
from models.quantities import duration, show_share
from models.records import (
    CoversTaken,
    CrewOut,
    Entry,
    Found,
    Gap,
    WaterOut,
    WorkDone,
    WorkFailed,
    WorkStarted,
)
from scheduler.happened.conditions import conditions
from scheduler.happened.visits import SeenVisit
from scheduler.recorded.life import Life
from scheduler.recorded.played import Week
from scheduler.recorded.words import NOBODY, UNKNOWN, Words

#: Nearer than that to its plan a visit was in time.
_IN_TIME = timedelta(minutes=15)
_HOLDS_WATER = ("covered", "ponded")


def water_then(week: Week, surface_id: str, at: datetime) -> str:
    """Say which share of its water a cover had at an instant, or why it had none."""
    trace = week.trace(surface_id)
    phase = phase_at(trace, at)
    if not trace.held_l_m2:
        return "holds no water"
    if phase is None or phase.kind not in _HOLDS_WATER:
        return "no cover on"
    return show_share(share_at(trace, at))


def gaps_of(life: Life) -> list[Gap]:
    """Give the dry gaps that began before the record ends."""
    return [gap for gap in life.gaps if gap.starts_at < life.until]


def gaps_section(life: Life, words: Words) -> Section:
    """List dry gaps with their cause and what was done."""
    return Section(
        title="Dry gaps",
        columns=("Dry", "How long", "State", "Cause", "What was done"),
        widths=(24, 11, 9, 30, 30),
        rows=tuple(_rows(life, words)),
        none="None: damp throughout, by the clock and by what was written.",
        note="By the clock, run on the visits as they were written, as they were "
        "planned where nobody wrote, and on the conditions found.",
    )


def _rows(life: Life, words: Words) -> Iterator[Row]:
    for gap in gaps_of(life):
        ends_at = min(gap.ends_at, life.until)
        minutes = round((ends_at - gap.starts_at).total_seconds() / 60)
        cells = (
            words.span(gap.starts_at, ends_at),
            duration(minutes),
            "covered" if gap.covered else "bare",
            "; ".join(_causes(life, gap, words)) or f"{UNKNOWN}: nobody wrote why",
            _remedy(life, gap, words),
        )
        yield Row(cells=cells, tone="bad")


def _causes(life: Life, gap: Gap, words: Words) -> Iterator[str]:
    """Say what is known to have led to a gap, the nearest first."""
    for entry in life.own_entries:
        values = entry.values
        if isinstance(values, CoversTaken):
            back_at = values.back_at or life.at
            if entry.happened_at < gap.ends_at and back_at > gap.starts_at:
                yield f"covers off for other trades ({words.written(entry)})"
    for entry, condition in conditions(life.own_entries):
        if condition == "dry" and gap.starts_at <= life.found_at(entry) <= _after(gap):
            yield f"dried sooner than planned: found dry ({words.written(entry)})"
    for one in life.seen:
        task = life.tasks.get(one.visit.task_id)
        off = task is not None and (task.facts.lifts or task.kind == "drain")
        if off and not gap.covered and one.visit.starts_at == gap.starts_at:
            source = words.written(one.entry) if one.entry is not None else NOBODY
            yield f"{life.work_words(one)} before curing was over ({source})"
        yield from _late_or_failed(life, one, gap, words)
    visits = [one.visit for one in life.seen]
    needed = {v.crew_id for v in visits} | {v.water_point_id for v in visits}
    for entry in life.entries:
        is_out = isinstance(entry.values, WaterOut | CrewOut) and _meets(entry, gap)
        if is_out and entry.about in needed:
            yield f"{entry.about} was out ({words.written(entry)})"
    number, roster = life.book.counted_at(gap.starts_at)
    planned = [
        known
        for known in roster.gaps
        if known.surface_id == life.surface_id
        and known.starts_at < gap.ends_at
        and known.ends_at > gap.starts_at
        and known.reasons
    ]
    for known in planned[:1]:
        why = why_between(known, gap.starts_at, gap.ends_at)
        yield f"dry in issue {number} already: {why}"


def _after(gap: Gap) -> datetime:
    """Give until when finds and work are of a gap: they take a while."""
    return gap.ends_at + timedelta(hours=1)


def _late_or_failed(
    life: Life, one: SeenVisit, gap: Gap, words: Words
) -> Iterator[str]:
    entry, planned_at = one.entry, life.planned_start(one)
    task = life.tasks.get(one.visit.task_id)
    helps = task is not None and (task.refills or task.protects or task.covers)
    if entry is None or planned_at is None or not helps:
        return
    if isinstance(entry.values, WorkFailed):
        if _last_help(life, gap) <= planned_at < gap.ends_at:
            why = one_line(entry.values.why) or f"why is {UNKNOWN}"
            work = life.work_words(one)
            yield f"{work} not done: {why} ({words.written(entry)})"
        return
    if planned_at < gap.ends_at and gap.starts_at < one.visit.starts_at <= _after(gap):
        late = one.visit.starts_at - planned_at
        if late > _IN_TIME:
            by = duration(round(late.total_seconds() / 60))
            yield f"{life.work_words(one)} {by} after its plan ({words.written(entry)})"


def _last_help(life: Life, gap: Gap) -> datetime:
    """Give when a visit last wetted or laid something before a gap."""
    ends = [
        one.visit.ends_at
        for one in life.seen
        if not one.is_failed
        and one.visit.ends_at <= gap.starts_at
        and (task := life.tasks.get(one.visit.task_id)) is not None
        and (task.refills or task.covers)
    ]
    return max(ends, default=life.surface.placing_starts_at)


def _meets(entry: Entry, gap: Gap) -> bool:
    values = entry.values
    assert isinstance(values, WaterOut | CrewOut)
    over = values.ends_at is not None and values.ends_at <= gap.starts_at - _IN_TIME
    return values.starts_at < gap.ends_at and not over


def _remedy(life: Life, gap: Gap, words: Words) -> str:
    """Say what ended a gap."""
    for one in life.seen:
        task = life.tasks.get(one.visit.task_id)
        helps = task is not None and (task.refills or task.covers or task.protects)
        ends = gap.starts_at < one.visit.ends_at and one.visit.starts_at <= _after(gap)
        if not helps or not ends or one.is_failed:
            continue
        work = life.work_words(one)
        if one.entry is None:
            return f"{work} {words.when(one.visit.starts_at)}: {NOBODY}"
        values = one.entry.values
        litres = getattr(values, "litres_l", None)
        amount = f", {words.show('volume', litres)}" if litres is not None else ""
        assert isinstance(values, WorkDone | WorkStarted | Found)
        when = words.when(one.visit.ends_at)
        return f"{work} {when}{amount} ({words.written(one.entry)})"
    if gap.ends_at >= life.until or any(g.starts_at == gap.ends_at for g in life.gaps):
        return "nothing by then"
    return f"{UNKNOWN}: nobody wrote; damp again by the clock"
