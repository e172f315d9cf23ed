"""Visits of a record: planned, done, found, and what nobody wrote."""

from collections.abc import Iterator

from exports.record.curing_record import Row, Section
from exports.text import one_line
from models.records import (
    TASK_KINDS,
    Condition,
    Entry,
    Found,
    WorkDone,
    WorkFailed,
    WorkStarted,
)
from scheduler.happened.conditions import conditions
from scheduler.happened.visits import SeenVisit
from scheduler.recorded.life import Life
from scheduler.recorded.water import water_then
from scheduler.recorded.words import NOBODY, UNKNOWN, Words

#: Conditions that nobody may pass over.
_BAD = ("dry", "frozen")


def visits_section(life: Life, words: Words) -> Section:
    """List the work on the surface, a row a visit."""
    rows = [*(_visit(life, words, one) for one in life.seen)]
    rows += [_failure(words, entry) for entry in life.unplanned_failures]
    return Section(
        title="Work on the surface",
        columns=("Work", "Planned", "Done", "Found before", "Amount", "Known from"),
        widths=(13, 17, 24, 11, 15, 24),
        rows=tuple(rows),
        none="No visit was planned or written by then.",
    )


def _visit(life: Life, words: Words, one: SeenVisit) -> Row:
    planned_at = life.planned_start(one)
    planned = words.when(planned_at) if planned_at else "not planned"
    work, task = life.work_words(one), life.tasks.get(one.visit.task_id)
    if one.entry is None:
        if one in life.unwritten:
            looks = task is None or task.facts.on_cover
            cells = (work, planned, UNKNOWN, UNKNOWN if looks else "", "", NOBODY)
            return Row(cells=cells, tone="open")
        return Row(cells=(work, planned, "not due by then", "", "", NOBODY))
    values, entry = one.entry.values, one.entry
    source = words.written(entry)
    if isinstance(values, WorkFailed):
        return Row(
            cells=(work, planned, _not_done(values), _found(entry), "", source),
            tone="bad",
        )
    done = words.span(one.visit.starts_at, one.visit.ends_at)
    if isinstance(values, WorkStarted):
        done = f"begun {words.when(one.visit.starts_at)}; end {UNKNOWN}"
    if isinstance(values, WorkDone) and values.started_at is None:
        done = f"ended {words.when(entry.happened_at)}"
    if isinstance(values, Found):
        done = words.when(entry.happened_at)
    looked = task is None or task.facts.on_cover
    found = _found(entry) if looked or _found(entry) != UNKNOWN else ""
    cells = (work, planned, done, found, _amount(entry, words), source)
    return Row(cells=cells, tone="open" if isinstance(values, WorkStarted) else "plain")


def _failure(words: Words, entry: Entry) -> Row:
    values = entry.values
    assert isinstance(values, WorkFailed)
    work = TASK_KINDS[values.work].verb
    source = words.written(entry)
    cells = (work, "in an older issue", _not_done(values), _found(entry), "", source)
    return Row(cells=cells, tone="bad")


def _not_done(values: WorkFailed) -> str:
    why = one_line(values.why) or f"why is {UNKNOWN}"
    return f"NOT done: {why}"


def _found(entry: Entry) -> str:
    values = entry.values
    if isinstance(values, Found):
        return values.condition
    found = values.found if isinstance(values, WorkDone | WorkFailed) else None
    return found or UNKNOWN


def _amount(entry: Entry, words: Words) -> str:
    litres_l = getattr(entry.values, "litres_l", None)
    area_m2 = getattr(entry.values, "area_m2", None)
    shown = []
    if litres_l is not None:
        shown.append(words.show("volume", litres_l))
    if area_m2 is not None:
        shown.append(words.show("area", area_m2))
    return ", ".join(shown)


def finds_section(life: Life, words: Words) -> Section:
    """Hold the water that was planned for a cover against how it was found."""
    return Section(
        title="Water in the cover: planned against found",
        columns=("Found at", "Planned then", "By the clock", "Found", "Known from"),
        widths=(20, 14, 14, 14, 40),
        rows=tuple(_finds(life, words)),
        none=f"Condition {UNKNOWN} throughout: nobody wrote how the cover was found.",
        note="Water left when somebody looked, as a share of what the cover "
        "holds: by the plan that counted then, and by the clock as it is met by finds.",
    )


def _finds(life: Life, words: Words) -> Iterator[Row]:
    found = [
        (life.found_at(entry), entry, condition)
        for entry, condition in conditions(life.own_entries)
    ]
    for at, entry, condition in sorted(found, key=lambda one: (one[0], one[1].number)):
        planned = water_then(life.planned_at(at), life.surface_id, at)
        clocked = water_then(life.now, life.surface_id, at)
        cells = (words.when(at), planned, clocked, condition, words.written(entry))
        yield Row(cells=cells, tone="bad" if condition in _BAD else "plain")


#: As the sheets' boxes have them.
LETTERS: dict[Condition, str] = {
    "wet": "W",
    "damp": "D",
    "patchy": "P",
    "dry": "X",
    "frozen": "F",
    "unknown": "?",
}
