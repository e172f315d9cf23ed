"""What the two clocks hand on: arrays over time steps and surfaces.

Dataclasses over numpy arrays, not pydantic records: they are never written to a file,
and a company's week has millions of values. Every array is ``(steps, surfaces)`` unless
said otherwise; step *i* stands for the time from ``grid.at(i)`` to ``grid.at(i + 1)``.
"""

from dataclasses import dataclass
from datetime import datetime, timedelta

import numpy as np
from numpy.typing import NDArray

from models.quantities import Instant
from models.records.base import Record

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]


@dataclass(frozen=True)
class Grid:
    """Equal steps of time, common to all surfaces of a site."""

    starts_at: datetime
    step_min: int
    steps: int

    def at(self, step: int) -> datetime:
        """Instant at which a step begins."""
        return self.starts_at + timedelta(minutes=step * self.step_min)

    def step(self, at: datetime) -> int:
        """Step in which an instant lies; may be outside ``range(steps)``."""
        minutes = (at - self.starts_at).total_seconds() / 60
        return int(minutes // self.step_min)


class EventWindow(Record):
    """A condition, not a time: when it may come, when we count on it."""

    earliest_at: Instant
    expected_at: Instant
    latest_at: Instant


class SurfaceEvents(Record):
    """When a surface changes what may be done to it.

    Attributes
    ----------
    sheen_gone, takes_cover, bears_people : EventWindow
        Bleed water gone; a laid cover leaves no mark; people and mats leave no mark.
    initial_set, final_set : EventWindow
        Of the concrete under the face, whether or not it is still in forms.
    freezes_at : Instant or None
        When the surface first falls below 0 °C before its expected final set.
    curing_ends : EventWindow or None
        By the profile; None if the grid ends first.
    curing_rule : str
        The criterion that decided, in words, such as "7 days at 10 °C or more".
    """

    surface_id: str
    sheen_gone: EventWindow
    takes_cover: EventWindow
    bears_people: EventWindow
    initial_set: EventWindow
    final_set: EventWindow
    freezes_at: Instant | None = None
    curing_ends: EventWindow | None
    curing_rule: str


class HeatParameters(Record):
    """How a concrete heats: time parameter, heat in the end, activation energy."""

    tau_h: float
    heat_j_kg: float
    energy_j_mol: float


class HeatFit(Record):
    """What readings made of the heat of one surface's concrete.

    Attributes
    ----------
    readings : int
        How many, from ``first_at`` to ``last_at``.
    prior, fitted : HeatParameters
        As its binder makes it, and as measured.
    miss_before_k, miss_after_k : float
        Root mean square of model less reading, before and after. [K]
    at_bound : tuple of str
        Parameters that would have gone further than is possible.
    """

    surface_id: str
    readings: int
    first_at: Instant
    last_at: Instant
    prior: HeatParameters
    fitted: HeatParameters
    miss_before_k: float
    miss_after_k: float
    at_bound: tuple[str, ...] = ()


@dataclass(frozen=True)
class HydrationHistory:
    """Clock 1. Before placing a surface's values are NaN, but for ages of 0.

    ``fits`` are of the surfaces with enough readings.
    """

    grid: Grid
    surface_ids: tuple[str, ...]
    surface_temperature_c: Floats
    core_temperature_c: Floats
    mean_temperature_c: Floats
    equivalent_age_h: Floats
    strength_fraction: Floats
    events: tuple[SurfaceEvents, ...]
    fits: tuple[HeatFit, ...] = ()


@dataclass(frozen=True)
class DryingHistory:
    """Clock 2.

    Attributes
    ----------
    fresh_rate_kg_m2_h : array
        Evaporation from the bare fresh surface, whether or not it is still bare.
    cover_loss_l_m2_h : array
        Net loss of the cover planned for the step while wet, rain credited (so it may
        be negative), whether or not the cover is on yet.
    held_l_m2 : array (surfaces,)
        What the first cover that holds water holds when full.
    held_steps_l_m2 : array
        What the cover planned for each step holds when full.
    fog_needed : array of bool
        Bare and drying faster than it bleeds or than the action level of the site.
    """

    grid: Grid
    surface_ids: tuple[str, ...]
    fresh_rate_kg_m2_h: Floats
    cover_loss_l_m2_h: Floats
    held_l_m2: Floats
    held_steps_l_m2: Floats
    fog_needed: Flags


@dataclass(frozen=True)
class Spread:
    """Early and late drying clocks, to show beside the expected one.

    ``forecast`` by weather that comes otherwise, ``model`` by formulas and covers that
    are off; ``model_words`` says by how much and who says so.
    """

    forecast: tuple[DryingHistory, ...] = ()
    model: tuple[DryingHistory, ...] = ()
    model_words: str = ""
