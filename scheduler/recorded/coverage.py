"""Compound on a record: litres over area against what the method asks."""

from collections.abc import Iterator

from exports.record.curing_record import Row, Section
from models.records import Task, WorkDone
from scheduler.recorded.life import Life
from scheduler.recorded.words import NOBODY, UNKNOWN, Words

#: A drum's scale and a paced area are not better than this (assumption).
_SHORT_FRACTION = 0.05


def sprayed(life: Life) -> tuple[Task, ...]:
    """Give the tasks that put compound on the surface."""
    return tuple(
        task
        for task in life.tasks.values()
        if task.facts.lays and any(m.volume_l for m in task.materials)
    )


def coverage_section(life: Life, words: Words) -> Section | None:
    """Give litres over area; None where no compound is sprayed."""
    tasks = sprayed(life)
    if not tasks:
        return None
    return Section(
        title="Compound coverage",
        columns=("Coat", "Asked", "Sprayed", "Known from", "State"),
        widths=(18, 22, 24, 28, 12),
        rows=tuple(_rows(life, words, tasks)),
        note="Litres over area; which product, and its own sheet, the specification "
        "says.",
    )


def _rows(life: Life, words: Words, tasks: tuple[Task, ...]) -> Iterator[Row]:
    area_m2 = life.surface.area_m2
    by_id = {task.id: task for task in tasks}
    asked_l = sum(m.volume_l or 0 for task in tasks for m in task.materials)
    put_l, put_known = 0.0, True
    for one in life.seen:
        task = by_id.get(one.visit.task_id)
        if task is None:
            continue
        litres_l = sum(m.volume_l or 0 for m in task.materials)
        asked = words.show("small volume", litres_l)
        values = one.entry.values if one.entry is not None else None
        if not isinstance(values, WorkDone) or values.litres_l is None:
            put_known = False
            source = NOBODY if one.entry is None else words.written(one.entry)
            cells = (task.full_title, asked, UNKNOWN, source, UNKNOWN)
            yield Row(cells=cells, tone="open")
            continue
        assert one.entry is not None
        put_l += values.litres_l
        sprayed_words = words.show("small volume", values.litres_l)
        if values.area_m2 is not None:
            rate = words.show("water per area", values.litres_l / values.area_m2)
            on = words.show("area", values.area_m2)
            sprayed_words += f" on {on}: {rate}"
        cells = (task.full_title, asked, sprayed_words, words.written(one.entry), "")
        yield Row(cells=cells)
    asked = words.show("water per area", asked_l / area_m2)
    if not put_known:
        cells = ("All coats", asked, UNKNOWN, "", UNKNOWN)
        yield Row(cells=cells, tone="open")
        return
    enough = put_l >= (1 - _SHORT_FRACTION) * asked_l
    on = words.show("area", area_m2)
    proof = f"{words.show('water per area', put_l / area_m2)} over {on}"
    state = "met" if enough else "NOT met"
    tone = "plain" if enough else "bad"
    yield Row(cells=("All coats", asked, proof, "as written", state), tone=tone)
