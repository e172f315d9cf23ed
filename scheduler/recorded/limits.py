"""Limits on temperature of a record: what the rule allows, how far it went."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from exports.breaches import Breached, breached
from exports.record.curing_record import Row, Section, Sign
from models.quantities import measure
from models.records import BreachKind, ConcreteReading, Entry, Floats, Reading
from scheduler.recorded.life import Life
from scheduler.recorded.played import Week
from scheduler.recorded.words import BY_CLOCK, UNKNOWN, Words, counted


@dataclass(frozen=True)
class Limit:
    """A limit that holds for a surface.

    Attributes
    ----------
    kind : str
        Breaches that are of it.
    asked : str
        It in words, with its clause.
    extreme : str
        The worst that was met; empty where only the breach says it.
    measured : str
        The worst that was measured; empty where nobody measured.
    within_h : int or None
        Of ``cooling``: the hours in which.
    """

    kind: BreachKind
    asked: str
    extreme: str = ""
    measured: str = ""
    within_h: int | None = None


def limit_rows(life: Life, words: Words) -> Iterator[Row]:
    """Give a row for each limit: kept, left, or to be left as foreseen."""
    left = _left(life, words)
    for limit in limits_of(life, words):
        own = [
            one
            for one in left
            if one.kind == limit.kind and one.worst_breach.within_h == limit.within_h
        ]
        source = BY_CLOCK
        source += "; readings" if limit.measured else ", no reading"
        if not own:
            proof = "; ".join(p for p in (limit.extreme, limit.measured) if p)
            yield Row(cells=(limit.asked, proof or "kept", source, "met"))
        for one in own:
            begun = one.spans[0].starts_at < life.at
            proof = f"{one.when}; {one.worst}"
            state = "NOT met" if begun else "foreseen"
            cells = (limit.asked, proof, source, state)
            yield Row(cells=cells, tone="bad" if begun else "open")
    told = {limit.kind for limit in limits_of(life, words)}
    for one in left:
        if one.kind not in told:
            begun = one.spans[0].starts_at < life.at
            state = "NOT met" if begun else "foreseen"
            cells = (f"{one.heading}.", f"{one.when}; {one.worst}", BY_CLOCK, state)
            yield Row(cells=cells, tone="bad" if begun else "open")


def _left(life: Life, words: Words) -> tuple[Breached, ...]:
    labels = {life.surface_id: life.surface.label}
    own = [
        finding
        for finding in life.now.report.findings
        if finding.surface_id == life.surface_id and finding.breach is not None
    ]
    from_at = life.now.roster.horizon.starts_at
    return breached(own, labels, words.clock, words.units, from_at)


def limits_of(life: Life, words: Words) -> Iterator[Limit]:
    """Give the limits of a surface's rule that hold for it."""
    profile, surface = life.now.rule(life.surface_id)[0], life.surface
    section = profile.section(surface.thickness_mm)
    face_c, core_c = _so_far(life)
    faces = [r.temperature_c for r in readings_of(life) if r.place == "surface"]
    cores = [r.temperature_c for r in readings_of(life) if r.place == "core"]
    degrees, apart = "exact temperature", "exact temperature difference"
    coldest = f"coldest face {words.show(degrees, float(face_c.min()))}"
    if profile.freezing_strength_mpa is not None:
        strength = words.show("pressure", profile.freezing_strength_mpa)
        yield Limit(
            "frost",
            f"No frost before {strength} ({profile.said_by('freezing_strength_mpa')}).",
            coldest,
            f"coldest measured {words.show(degrees, min(faces))}" if faces else "",
        )
    if section is not None and section.minimum_c is not None:
        least = words.show("temperature", section.minimum_c)
        clause = section.clause or profile.title
        yield Limit(
            "too_cold",
            f"At least {least} while protected from cold ({clause}).",
            coldest,
            f"coldest measured {words.show(degrees, min(faces))}" if faces else "",
        )
    if profile.core_max_c is not None:
        most = words.show("temperature", profile.core_max_c)
        yield Limit(
            "too_hot",
            f"At most {most} inside ({profile.said_by('core_max_c')}).",
            f"hottest core {words.show(degrees, float(core_c.max()))}",
            f"hottest measured {words.show(degrees, max(cores))}" if cores else "",
        )
    if wants_core(life):
        assert profile.core_surface_max_k is not None
        most = words.show("temperature difference", profile.core_surface_max_k)
        clause = profile.said_by("core_surface_max_k")
        yield Limit(
            "core_to_face",
            f"Core at most {most} warmer than the face ({clause}).",
            f"at most {words.show(apart, float((core_c - face_c).max()))} warmer",
            counted(len(cores), "core reading") if cores else "",
        )
    if section is not None and section.cooling_max_k is not None:
        most = words.show("temperature difference", section.cooling_max_k)
        clause = section.clause or profile.title
        yield Limit(
            "cooling", f"At most {most} colder in 24 h ({clause}).", within_h=24
        )
    if profile.cooling_hour_max_k is not None:
        most = words.show(apart, profile.cooling_hour_max_k)
        clause = profile.said_by("cooling_hour_max_k")
        yield Limit("cooling", f"At most {most} colder in 1 h ({clause}).", within_h=1)


def wants_core(life: Life) -> bool:
    """Whether the rule holds the core against the face in a member so thick."""
    profile, surface = life.now.rule(life.surface_id)[0], life.surface
    thick = surface.thickness_mm >= (profile.core_surface_from_mm or 0)
    return profile.core_surface_max_k is not None and thick


def readings_of(life: Life) -> list[Reading]:
    """Give readings of a surface up to the record's end, the folder's too."""
    readings = life.now.clocked.site_input.readings
    own = (r for r in readings if r.surface_id == life.surface_id and r.at <= life.at)
    return sorted(own, key=lambda reading: (reading.at, reading.place))


def _so_far(life: Life) -> tuple[Floats, Floats]:
    """Face and core by the clock, from placing to the end of proofs."""
    hydration, column = life.now.clocked.hydration, life.now.column(life.surface_id)
    grid = hydration.grid
    first = max(0, grid.step(life.surface.placing_ends_at) + 1)
    last = max(first + 1, grid.step(life.until))
    face_c = hydration.surface_temperature_c[first:last, column]
    core_c = hydration.core_temperature_c[first:last, column]
    return face_c[~np.isnan(face_c)], core_c[~np.isnan(face_c)]


def temperatures_section(life: Life, words: Words) -> Section:
    """Hold what was measured against what the clock had."""
    return Section(
        title="Concrete temperatures",
        columns=(
            "Read at",
            "Place",
            "Measured",
            "Planned",
            "By the clock",
            "Known from",
        ),
        widths=(20, 10, 12, 12, 14, 32),
        rows=tuple(_reading(life, words, reading) for reading in readings_of(life)),
        none=f"Measured: {UNKNOWN}, nobody wrote a reading; all are {BY_CLOCK}.",
    )


def _reading(life: Life, words: Words, reading: Reading) -> Row:
    planned = _clocked(life.planned_at(reading.at), life.surface_id, reading)
    return Row(
        cells=(
            words.when(reading.at),
            "face" if reading.place == "surface" else "core",
            words.show("exact temperature", reading.temperature_c),
            _degrees(planned, words),
            _degrees(_clocked(life.now, life.surface_id, reading), words),
            _source(life, words, reading),
        )
    )


def _degrees(value: float | None, words: Words) -> str:
    return "" if value is None else words.show("exact temperature", value)


def _clocked(week: Week, surface_id: str, reading: Reading) -> float | None:
    hydration, column = week.clocked.hydration, week.column(surface_id)
    step = hydration.grid.step(reading.at)
    if not 0 <= step < hydration.grid.steps:
        return None
    of_face = reading.place == "surface"
    values = (
        hydration.surface_temperature_c if of_face else hydration.core_temperature_c
    )
    value = float(values[step, column])
    return None if np.isnan(value) else value


def _source(life: Life, words: Words, reading: Reading) -> str:
    def is_it(entry: Entry) -> bool:
        values = entry.values
        return (
            isinstance(values, ConcreteReading)
            and entry.happened_at == reading.at
            and values.place == reading.place
            and values.temperature_c == reading.temperature_c
        )

    entry = next((one for one in life.own_entries if is_it(one)), None)
    return (
        "measured, readings file"
        if entry is None
        else f"measured, {words.written(entry)}"
    )


def drawn_limits(life: Life, words: Words) -> tuple[Sign, ...]:
    """Give the limits that are one temperature, to be drawn across."""
    profile, surface = life.now.rule(life.surface_id)[0], life.surface
    section = profile.section(surface.thickness_mm)
    degrees = measure("exact temperature", words.units)
    face_c, core_c = _so_far(life)
    near_k = 15.0  # further off it would flatten what is drawn
    found = []
    if profile.core_max_c is not None and profile.core_max_c < core_c.max() + near_k:
        most = words.show("temperature", profile.core_max_c)
        found.append((profile.core_max_c, f"core at most {most}"))
    lows = [section.minimum_c] if section is not None and section.minimum_c else []
    rows = [r.at_or_above_c for r in profile.ends if r.kind == "days"]
    for low_c in {c for c in (*lows, *rows) if c is not None}:
        if low_c > face_c.min() - near_k:
            found.append((low_c, f"at least {words.show('temperature', low_c)}"))
    return tuple(
        Sign(x_fraction=1, value=round(degrees.shown(value), 2), words=said)
        for value, said in sorted(found)
    )
