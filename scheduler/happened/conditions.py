"""How covers were found, against how the drying clock would have had them.

A cover that is found drier or wetter than the clock says has lost its water faster or
slower since it was last full: the loss of that stretch is scaled so that the clock
meets what was found. How fast it dries from then on is not said here: that is learned
from all finds together.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import datetime

import numpy as np

from models.drying.learned.finds import DAMP_FROM, DAMP_WIDTH, PATCHY_FROM
from models.records import (
    Condition,
    DryingHistory,
    Entry,
    Floats,
    Found,
    LossFactor,
    WorkDone,
    WorkFailed,
)

#: Least and most of its water with which a cover is found so, as a share of what it
#: holds: the words of those who learn from finds, as far as people may differ.
RESERVE_FRACTIONS: Mapping[Condition, tuple[float, float]] = {
    "wet": (DAMP_FROM - DAMP_WIDTH, 1.0),
    "damp": (PATCHY_FROM, DAMP_FROM + DAMP_WIDTH),
    "patchy": (0.0, PATCHY_FROM),
    "dry": (0.0, 0.0),
}
#: Formulas and covers together are not further off than this (assumption).
_SLOWEST, _FASTEST = 0.1, 10.0


def found_factors(
    drying: DryingHistory,
    entries: Sequence[Entry],
    full_at: Mapping[str, Sequence[datetime]],
) -> dict[str, tuple[LossFactor, ...]]:
    """Give the factors on loss that conditions found ask for, by surface.

    Parameters
    ----------
    drying : DryingHistory
        The clock before anything was found.
    entries : sequence of Entry
        Those that stand.
    full_at : mapping
        Surface id -> instants at which its cover was full: laid soaked or wetted.
    """
    finds: defaultdict[str, list[tuple[datetime, Condition]]] = defaultdict(list)
    for entry, condition in conditions(entries):
        finds[entry.about].append((found_at(entry), condition))
    factors = {}
    for column, surface_id in enumerate(drying.surface_ids):
        held = float(drying.held_l_m2[column])
        if held <= 0 or not finds[surface_id]:
            continue
        loss = drying.cover_loss_l_m2_h[:, column] / held
        own = tuple(
            _factors(drying, loss, sorted(finds[surface_id]), full_at[surface_id])
        )
        if own:
            factors[surface_id] = own
    return factors


def conditions(entries: Iterable[Entry]) -> Iterator[tuple[Entry, Condition]]:
    """Give the entries that say how a cover was found, in words that tell anything."""
    for entry in entries:
        values = entry.values
        if isinstance(values, Found):
            condition: Condition | None = values.condition
        elif isinstance(values, WorkDone | WorkFailed):
            condition = values.found
        else:
            continue
        if condition is not None and condition in RESERVE_FRACTIONS:
            yield entry, condition


def found_at(entry: Entry) -> datetime:
    """Say when somebody looked: before the work, where it was work."""
    begun_at = getattr(entry.values, "started_at", None)
    return entry.happened_at if begun_at is None else begun_at


def _factors(
    drying: DryingHistory,
    loss_fraction_h: Floats,
    finds: Sequence[tuple[datetime, Condition]],
    full_at: Sequence[datetime],
) -> Iterator[LossFactor]:
    """Give the factor of each stretch that ends with a find the clock does not have."""
    known_at, known = None, 1.0
    for at, condition in finds:
        since = max((one for one in full_at if one <= at), default=None)
        if since is None:
            continue
        left = 1.0
        if known_at is not None and known_at > since:
            since, left = known_at, known
        stretch = _between(drying, loss_fraction_h, since, at)
        low, high = RESERVE_FRACTIONS[condition]
        by_clock = _left(stretch, left, 1.0)
        known_at, known = at, min(max(by_clock, low), high)
        if known != by_clock and len(stretch):
            factor = _factor(stretch, left, known)
            yield LossFactor(starts_at=since, ends_at=at, factor=round(factor, 3))


def _between(
    drying: DryingHistory, loss_fraction_h: Floats, since: datetime, until: datetime
) -> Floats:
    """Loss in each step of a stretch, as a share of what the cover holds."""
    grid = drying.grid
    first, last = grid.step(since), grid.step(until)
    steps = loss_fraction_h[max(0, first) : max(0, last)]
    return np.asarray(steps * grid.step_min / 60)


def _left(lost: Floats, left: float, factor: float) -> float:
    """Share of its water that a cover has after losing it step by step.

    Rain, a negative loss, is not scaled.
    """
    for each in lost.tolist():
        left = min(1.0, max(0.0, left - (each * factor if each > 0 else each)))
    return left


def _factor(lost: Floats, left: float, wanted: float) -> float:
    """Find the factor with which just so much is left, within what is possible."""
    slow, fast = _SLOWEST, _FASTEST
    for _ in range(40):
        middle = (slow * fast) ** 0.5
        if _left(lost, left, middle) > wanted:
            slow = middle
        else:
            fast = middle
    return fast
