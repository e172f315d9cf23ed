"""Both clocks of the three surfaces of ``exports_builders``, with values by hand.

Steps of ten minutes from two hours before the week to twelve after it. All surfaces
are placed at step 24, two hours into the week. The surface stays at 20 °C; the core
rises from 20 to 44 °C in 12 h and falls back in the same time: 2 K an hour.
"""

from datetime import datetime, timedelta

import numpy as np

from models.records import (
    DryingHistory,
    EventWindow,
    Floats,
    Grid,
    HydrationHistory,
    SurfaceEvents,
    Weather,
)
from tests.builders import MONDAY
from tests.builders import weather as fine_weather
from tests.exports.exports_builders import HORIZON_MIN

IDS = ("P1-top", "P2-top", "P3-wall")
BEFORE_MIN, STEP_MIN, PLACED_STEP = 120, 10, 24
STEPS = (BEFORE_MIN + HORIZON_MIN + 720) // STEP_MIN


def grid(starts_at: datetime = MONDAY) -> Grid:
    return Grid(starts_at - timedelta(minutes=BEFORE_MIN), STEP_MIN, STEPS)


def window(at: datetime, spread_min: int = 30) -> EventWindow:
    spread = timedelta(minutes=spread_min)
    return EventWindow(earliest_at=at - spread, expected_at=at, latest_at=at + spread)


def events(surface_id: str, starts_at: datetime = MONDAY) -> SurfaceEvents:
    """Six, eight and nine hours into the week; curing ends after 30 h."""

    def hours(count: float) -> datetime:
        return starts_at + timedelta(hours=count)

    return SurfaceEvents(
        surface_id=surface_id, sheen_gone=window(hours(6)),
        takes_cover=window(hours(8)), bears_people=window(hours(9)),
        initial_set=window(hours(7)), final_set=window(hours(9)),
        curing_ends=window(hours(30), 0), curing_rule="30 hours, by hand",
    )  # fmt: skip


def _columns(column: Floats) -> Floats:
    return np.repeat(column[:, None], len(IDS), axis=1)


def hydration(starts_at: datetime = MONDAY) -> HydrationHistory:
    since_h = (np.arange(STEPS) - PLACED_STEP) / 6
    core_c = 20 + 2 * np.clip(np.minimum(since_h, 24 - since_h), 0, None)
    placed = since_h >= 0
    surface_c = np.where(placed, 20.0, np.nan)
    core_c = np.where(placed, core_c, np.nan)
    return HydrationHistory(
        grid=grid(starts_at), surface_ids=IDS,
        surface_temperature_c=_columns(surface_c),
        core_temperature_c=_columns(core_c),
        mean_temperature_c=_columns((surface_c + core_c) / 2),
        equivalent_age_h=_columns(np.clip(since_h, 0, None)),
        strength_fraction=_columns(np.clip(since_h, 0, None) / 100),
        events=tuple(events(each, starts_at) for each in IDS),
    )  # fmt: skip


def drying(starts_at: datetime = MONDAY) -> DryingHistory:
    """Covers lose 0.05, 0.10 and nothing, the bare surface 0.3 L/(m² h)."""
    return DryingHistory(
        grid=grid(starts_at), surface_ids=IDS,
        fresh_rate_kg_m2_h=np.full((STEPS, len(IDS)), 0.3),
        cover_loss_l_m2_h=np.tile([0.05, 0.10, 0.0], (STEPS, 1)),
        held_l_m2=np.array([0.8, 0.8, 0.0]),
        held_steps_l_m2=np.tile([0.8, 0.8, 0.0], (STEPS, 1)),
        fog_needed=np.zeros((STEPS, len(IDS)), dtype=np.bool_),
    )  # fmt: skip


def air(starts_at: datetime = MONDAY) -> Weather:
    return fine_weather(starts_at - timedelta(hours=6), hours=72)
