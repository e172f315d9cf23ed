"""A first clock's result made by hand, so that the second can be tested alone."""

from collections.abc import Sequence
from datetime import datetime, timedelta

import numpy as np

from models.records import (
    EventWindow,
    Floats,
    Grid,
    HydrationHistory,
    Surface,
    SurfaceEvents,
)
from tests.builders import MONDAY

GRID = Grid(starts_at=MONDAY - timedelta(hours=4), step_min=10, steps=6 * 72)


def window(at: datetime) -> EventWindow:
    return EventWindow(earliest_at=at, expected_at=at, latest_at=at)


def hydration(
    surfaces: Sequence[Surface],
    surface_c: float | Floats = 22.0,
    set_after_h: float = 5.0,
    grid: Grid = GRID,
) -> HydrationHistory:
    """Every surface at one temperature from its placing on, set some hours later."""
    shape = (grid.steps, len(surfaces))
    placed = np.array([[grid.step(s.placing_starts_at) for s in surfaces]])
    before = np.arange(grid.steps)[:, None] < placed
    temperature = np.where(before, np.nan, np.broadcast_to(surface_c, shape))

    def events(of: Surface) -> SurfaceEvents:
        sets = window(of.placing_ends_at + timedelta(hours=set_after_h))
        return SurfaceEvents(
            surface_id=of.id, sheen_gone=sets, takes_cover=sets, bears_people=sets,
            initial_set=sets, final_set=sets, curing_ends=None, curing_rule="by hand",
        )  # fmt: skip

    return HydrationHistory(
        grid=grid,
        surface_ids=tuple(s.id for s in surfaces),
        surface_temperature_c=temperature,
        core_temperature_c=temperature,
        mean_temperature_c=temperature,
        equivalent_age_h=np.zeros(shape),
        strength_fraction=np.zeros(shape),
        events=tuple(events(s) for s in surfaces),
    )
