"""Dry stretches, and what a dry minute costs."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from models.records import Floats, WeightStep
from scheduler.audit.replayed.play import Play
from scheduler.audit.replayed.runs import stretches


@dataclass(frozen=True)
class DryStretch:
    """A surface dry from one minute up to another."""

    column: int
    from_min: int
    until_min: int
    covered: bool


def dry_stretches(play: Play) -> Iterator[DryStretch]:
    """Every gap, parted where the cover goes on."""
    minute = np.arange(len(play.dry))
    for column in range(len(play.works)):
        for covered in (False, True):
            on = (minute >= play.covered_from[column]) == covered
            for first, last in stretches(play.dry[:, column] & on):
                yield DryStretch(column, first, last, covered)


def dry_cost(play: Play, column: int) -> float:
    """Price of all dry minutes of a surface."""
    price = dry_price_by_minute(play, column)
    return float((price * play.dry[:, column]).sum())


def dry_price_by_minute(play: Play, column: int) -> Floats:
    """Price of a dry minute by age, risk, area and whether the surface is covered."""
    minute = np.arange(len(play.dry))
    work = play.works[column]
    return np.where(
        minute >= play.covered_from[column],
        weight_by_minute(work.weights, len(minute)),
        weight_by_minute(work.fresh_weights, len(minute)),
    )


def weight_by_minute(weights: Sequence[WeightStep], length: int) -> Floats:
    """Weight of each minute; before the first step, the first one's."""
    starts = np.array([step.from_min for step in weights])
    values = np.array([step.per_min for step in weights], np.float64)
    index = np.searchsorted(starts, np.arange(length), side="right") - 1
    return values[np.maximum(index, 0)]
