"""A surface followed strip by strip and minute by minute under the rows of a plan.

A strip is bare while it is exposed without a cover, unless it is fogged or somebody
keeps it wet; it weighs half between the two coats of compound. A laid strip drains by
the drying clock of its cover and is full again when a wetting has passed it.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from math import ceil

import numpy as np

from models.records import Task
from tests.bench.sense.course import Floats
from tests.bench.yard.facts import SurfaceFacts
from tests.bench.yard.rows import Row

_HALF = 0.5  # weight between coats: one coat holds back about half (assumption)
_EMPTY_L_M2 = 1e-6
_SLACK = 1e-3


@dataclass
class Strip:
    """What is done to one strip, in minutes, and what comes of it.

    Attributes
    ----------
    bare, dry : array (minutes,)
        How much of it is bare or dry under its cover in each minute: 0, a half or 1.
    """

    on_min: int | None
    off_min: int | None = None
    coats_min: list[int] = field(default_factory=list)
    fills_min: list[int] = field(default_factory=list)
    kept: list[tuple[int, int]] = field(default_factory=list)
    bare: Floats = field(default_factory=lambda: np.zeros(0))
    dry: Floats = field(default_factory=lambda: np.zeros(0))


def follow_strips(
    facts: SurfaceFacts, rows: Sequence[Row], length_min: int
) -> list[Strip]:
    """Follow a surface through the rows on it."""
    lies = None if facts.work.covered_from_min is None else 0
    strips = [Strip(lies) for _ in range(facts.cells)]
    _work(facts, rows, strips)
    for strip in strips:
        _play(facts, strip, length_min)
    return strips


def _work(facts: SurfaceFacts, rows: Iterable[Row], strips: list[Strip]) -> None:
    n = len(strips)
    done, wetted = dict[str, float](), 0.0
    special = {task.id.split("/", 1)[1]: task for task in facts.work.tasks}
    for row in rows:
        if row.action in {"lay", "change", "lift", "spray"}:
            first = done.get(row.action, 0.0)
            until = done[row.action] = first + row.share
            hit = [k for k in range(2 * n) if _in(k + 1, first * n, until * n)]
            for i, k in enumerate(hit):
                _pass(row.action, strips[k % n], row.passes_min(i, len(hit)))
        elif row.action in {"first_soak", "rewet"}:
            first = wetted if row.share < 1 else 0.0
            wetted = (first + row.share) % 1 if row.share < 1 else 0.0
            hit = [
                k for k in range(n) if _in(k + 1, first * n, (first + row.share) * n)
            ]
            for i, k in enumerate(hit):
                strips[k].fills_min.append(row.passes_min(i, len(hit)))
        elif row.action == "fog":
            _fog(strips, row)
        elif row.action == "other":
            for strip in strips:
                _special(special[row.task], strip, row)


def _fog(strips: list[Strip], row: Row) -> None:
    """Keep strips from the end that is laid last, those that nobody fogs already."""
    wanted = ceil(row.share * len(strips) - _SLACK)
    for strip in reversed(strips):
        fogged = any(first <= row.start_min < last for first, last in strip.kept)
        if wanted > 0 and not fogged:
            strip.kept.append((row.start_min, row.end_min))
            wanted -= 1


def _in(value: float, first: float, until: float) -> bool:
    return first + _SLACK < value <= until + _SLACK


def _pass(action: str, strip: Strip, minute: int) -> None:
    if action in {"lay", "change"} and strip.on_min is None:
        strip.on_min = minute
    if action == "change":
        strip.fills_min.append(minute)
    if action == "lift" and strip.on_min is not None:
        strip.off_min = minute
    if action == "spray":
        strip.coats_min.append(minute)


def _special(task: Task, strip: Strip, row: Row) -> None:
    if task.seals:
        strip.coats_min += [row.end_min, row.end_min]
    if task.refills:
        strip.fills_min.append(row.end_min)
    if task.covers and strip.on_min is None:
        strip.on_min = row.end_min
    if task.protects:
        strip.kept.append((row.start_min, row.end_min))


def _play(facts: SurfaceFacts, strip: Strip, length_min: int) -> None:
    work, coats = facts.work, sorted(strip.coats_min)
    wanted = facts.jobs["spray"].times if "spray" in facts.jobs else 2
    sealed = coats[wanted - 1] if len(coats) >= wanted else length_min
    until = max(0, min(length_min, work.ends_min, sealed))
    on = length_min if strip.on_min is None else strip.on_min
    off = length_min if strip.off_min is None else strip.off_min
    bare, dry = np.zeros(length_min), np.zeros(length_min)
    for stretch in work.fresh:
        bare[max(0, stretch.from_min) : max(0, min(stretch.until_min, until, on))] = 1
    bare[off:until] = 1
    if coats:
        bare[coats[0] :] *= _HALF
    ends = min(until, off)
    if work.curve is not None and on < ends:
        held, fills = work.curve.held_l_m2, set(strip.fills_min)
        loss = facts.loss_l_m2.tolist()
        left = work.reserve_at_start_l_m2 if strip.on_min == 0 else held
        for minute in range(on, ends):
            if minute in fills:
                left = held
            if left <= _EMPTY_L_M2:
                dry[minute] = 1
            left = min(held, max(0.0, left - loss[minute]))
    for first, last in strip.kept:
        bare[max(0, first) : max(0, last)] = 0
        dry[max(0, first) : max(0, last)] = 0
    strip.bare, strip.dry = bare, dry
