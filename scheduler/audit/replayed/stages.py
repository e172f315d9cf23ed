"""Which cover a surface is planned to have when, counted by the audit."""

from collections.abc import Callable, Iterator, Sequence
from datetime import datetime
from itertools import pairwise

import numpy as np

from models.records import CoverProperties, Floats, Grid, Surface


def by_step(
    surfaces: Sequence[Surface], grid: Grid, of: Callable[[CoverProperties], float]
) -> Floats:
    """Give a figure of the cover of each step and surface.

    A later cover counts in every step that begins at its start or after it.
    """
    minute = np.arange(grid.steps) * grid.step_min
    columns = []
    for surface in surfaces:
        starts = [
            (stage.starts_at - grid.starts_at).total_seconds() / 60
            for stage in surface.later
        ]
        figures = np.array([of(cover) for cover in surface.covers], np.float64)
        columns.append(figures[np.searchsorted(starts, minute, side="right")])
    return np.stack(columns, axis=1)


def found_by_step(surfaces: Sequence[Surface], grid: Grid) -> Floats:
    """Give the factor on each surface's loss, by step, as it was found; else 1.

    It counts in every step that begins at its start or after it, and before its end.
    """
    minute = np.arange(grid.steps) * grid.step_min
    found = np.ones((grid.steps, len(surfaces)))
    for column, surface in enumerate(surfaces):
        for one in surface.loss_factors:
            since = minute >= (one.starts_at - grid.starts_at).total_seconds() / 60
            if one.ends_at is not None:
                ends = (one.ends_at - grid.starts_at).total_seconds() / 60
                since &= minute < ends
            found[since, column] = one.factor
    return found


def as_cured(surface: Surface, cured_at: datetime | None) -> Surface:
    """Give a surface with those of its changes that come before curing is over."""
    if cured_at is None:
        return surface
    later = tuple(stage for stage in surface.later if stage.starts_at < cured_at)
    return surface.model_copy(update={"later": later})


def changes(
    surface: Surface,
) -> Iterator[tuple[datetime, CoverProperties, CoverProperties]]:
    """Yield when a cover gives way to the next, and both."""
    for stage, (before, after) in zip(
        surface.later, pairwise(surface.covers), strict=True
    ):
        yield stage.starts_at, before, after


def cover_at(surface: Surface, at: datetime) -> CoverProperties:
    """Give the cover planned for a surface at an instant, once it has one."""
    begun = sum(stage.starts_at <= at for stage in surface.later)
    return surface.covers[begun]
