"""What is missing before a curing record can be signed, in short lines."""

from collections.abc import Iterator
from datetime import datetime

from models.quantities import show_share
from models.records import WorkDone, WorkStarted
from models.records.criterion import StrengthRow
from scheduler.recorded.coverage import sprayed
from scheduler.recorded.life import Life
from scheduler.recorded.limits import readings_of, wants_core
from scheduler.recorded.words import UNKNOWN, Words, counted, some

#: Time that only counts while the face is warm enough asks for a reading where the
#: clock comes so near to it: no clock is better (assumption).
NEAR_K = 3.0


def missing_of(life: Life, words: Words) -> tuple[str, ...]:
    """List what nobody wrote and a signature should not do without."""
    return tuple(
        line
        for lines in (
            _not_over(life, words),
            _placing(life),
            _visits(life, words),
            _cover_removed(life, words),
            _readings(life, words),
            _tests(life),
            _compound(life),
        )
        for line in lines
    )


def _not_over(life: Life, words: Words) -> Iterator[str]:
    if life.is_over:
        return
    ends_at = life.credit.ends_at
    when = (
        "beyond the weather that is known" if ends_at is None else words.when(ends_at)
    )
    yield f"curing is not over: {when}"


def _placing(life: Life) -> Iterator[str]:
    surface = life.surface
    if life.last(life.pour.id, "placing_finished") is None:
        yield f"when placing of {life.pour.id} finished"
    if surface.face != "top" and life.last(life.surface_id, "struck") is None:
        yield "when the forms came off"


def _visits(life: Life, words: Words) -> Iterator[str]:
    if life.unwritten:
        named = [
            f"{life.work_words(one)} {words.when(one.visit.starts_at)}"
            for one in life.unwritten
        ]
        count = counted(len(named), "visit")
        yield f"{count} without an entry: {some(named)}"
    begun = [
        f"{life.work_words(one)} {words.when(one.visit.starts_at)}"
        for one in life.seen
        if one.entry is not None and isinstance(one.entry.values, WorkStarted)
    ]
    if begun:
        yield f"{counted(len(begun), 'visit')} begun, end {UNKNOWN}: {some(begun)}"
    blind = [
        f"{life.work_words(one)} {words.when(one.visit.starts_at)}"
        for one in life.seen
        if one.entry is not None
        and isinstance(one.entry.values, WorkDone)
        and one.entry.values.found is None
        and (task := life.tasks.get(one.visit.task_id)) is not None
        and (task.facts.rewets or task.facts.inspects)
        and not _found_beside(life, one.entry.happened_at)
    ]
    if blind:
        yield f"condition found at {counted(len(blind), 'visit')}: {some(blind)}"


def _found_beside(life: Life, at: datetime) -> bool:
    """Whether somebody wrote a find of its own at the time of a visit."""
    return any(e.kind == "found" and e.happened_at == at for e in life.own_entries)


def _cover_removed(life: Life, words: Words) -> Iterator[str]:
    """Tell what came off before curing was over."""
    early = [
        one
        for one in life.seen
        if (task := life.tasks.get(one.visit.task_id)) is not None
        and task.facts.uncovers
        and not one.is_failed
        and one.entry is not None
        and (life.credit.ends_at is None or one.visit.starts_at < life.credit.ends_at)
    ]
    if early:
        named = [
            f"{life.work_words(one)} {words.when(one.visit.starts_at)}" for one in early
        ]
        yield f"why before the end of curing: {some(named)}"


def _readings(life: Life, words: Words) -> Iterator[str]:
    places = {reading.place for reading in readings_of(life)}
    if wants_core(life) and "core" not in places:
        yield "a reading of the core: the rule holds it against the face"
    least = _near(life)
    if least is not None and "surface" not in places:
        degrees = words.show("temperature", least)
        yield f"a reading of the face: by the clock it came near {degrees}, or below"


def _near(life: Life) -> float | None:
    """Give the least temperature that counts, where the clock comes near it."""
    hydration, column = life.now.clocked.hydration, life.now.column(life.surface_id)
    grid = hydration.grid
    first = max(0, grid.step(life.surface.placing_ends_at) + 1)
    face_c = hydration.surface_temperature_c[first : grid.step(life.until), column]
    for one in life.credit.criteria:
        low_c = getattr(one.row, "at_or_above_c", None)
        if low_c is not None and face_c.size and face_c.min() < low_c + NEAR_K:
            return float(low_c)
    return None


def _tests(life: Life) -> Iterator[str]:
    for one in life.credit.criteria:
        if isinstance(one.row, StrengthRow):
            share = show_share(one.fraction)
            yield f"strength tests on paper: the model alone has {share} of it"


def _compound(life: Life) -> Iterator[str]:
    tasks = {task.id for task in sprayed(life)}
    dosed = [
        one
        for one in life.seen
        if one.visit.task_id in tasks
        and one.entry is not None
        and isinstance(one.entry.values, WorkDone)
    ]
    short = [
        one
        for one in dosed
        if one.entry is not None
        and isinstance(one.entry.values, WorkDone)
        and (one.entry.values.litres_l is None or one.entry.values.area_m2 is None)
    ]
    if short:
        yield f"litres and area of compound at {counted(len(short), 'visit')}"
