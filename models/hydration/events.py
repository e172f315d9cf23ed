"""Setting ages into instants: when each surface's events come."""

from collections.abc import Sequence
from datetime import datetime, timedelta
from math import ceil

import numpy as np
from numpy.typing import NDArray

from models.hydration.course import AgeName, event_ages
from models.hydration.setting import HAUL_H, setting_rate
from models.hydration.temperature_history import Course, Temperatures
from models.records import EventWindow, Floats, Grid, Mix, Surface

#: Beyond the end of the grid the last pace goes on, but never slower than this: a
#: frozen surface would otherwise have no event at all (assumption).
SLOWEST_RATE = 0.1


def minutes_of_age(
    target_h: Floats,
    setting_age_h: Floats,
    refresh_min: int,
    end_min: int,
    placed_min: Floats | NDArray[np.int64],
    rate_at_placing: Floats,
) -> NDArray[np.int64]:
    """Whole minutes from the grid's start at which setting ages are reached.

    Parameters
    ----------
    target_h : array (surfaces,)
        Setting age wanted. [h]
    setting_age_h : array (refreshes + 1, surfaces)
        Setting age at the beginning of each refresh, and at the end. [h]
    refresh_min : int
        Minutes from one refresh to the next; the last may be shorter. [min]
    end_min : int
        End of the grid. [min]
    placed_min : array (surfaces,)
        When each surface was placed. [min]
    rate_at_placing : array (surfaces,)
        Setting rate of the fresh concrete. [-]

    Returns
    -------
    array of int (surfaces,)
        Rounded up; straight within a refresh, past the end at the last pace. [min]
    """
    columns = np.arange(target_h.size)
    reached = setting_age_h >= target_h
    index = np.maximum(reached.argmax(axis=0), 1)
    older_h = setting_age_h[index, columns]
    younger_h = setting_age_h[index - 1, columns]
    from_min = np.maximum((index - 1) * refresh_min, placed_min)
    until_min = np.minimum(index * refresh_min, end_min)
    grown_h = np.maximum(older_h - younger_h, 1e-12)
    within = np.maximum((target_h - younger_h) / grown_h, 0)
    inside_min = from_min + within * (until_min - from_min)

    last_h = (end_min - (setting_age_h.shape[0] - 2) * refresh_min) / 60
    pace = (setting_age_h[-1] - setting_age_h[-2]) / last_h
    pace = np.where(placed_min + refresh_min < end_min, pace, rate_at_placing)
    left_h = (target_h - setting_age_h[-1]) / np.maximum(pace, SLOWEST_RATE)
    beyond_min = np.maximum(end_min, placed_min) + 60 * left_h

    minutes = np.where(reached[-1], inside_min, beyond_min)
    return np.asarray(np.ceil(minutes - 1e-6).astype(np.int64))


Windows = dict[AgeName, EventWindow]


def windows_of(
    surfaces: Sequence[Surface],
    mixes: Sequence[Mix],
    course: Course,
    history: Temperatures,
    grid: Grid,
) -> list[Windows]:
    """When the events of each surface come.

    They stand on the youngest concrete, that of the end of placing. It sets in forms
    too, but nothing else comes to a formed face before it is exposed. What was covered
    has been ready for it: then the sheen was gone and the cover was taken at the latest
    when it was reported on. What was seen to take its cover has all its events as much
    sooner or later, counted from the end of placing.
    """
    at_placing = setting_rate(course.placing_temperature_c, course.setting_energy_j_mol)
    minutes = {
        name: np.stack(
            [
                minutes_of_age(
                    target_h,
                    history.setting_age_h,
                    history.refresh_steps * grid.step_min,
                    grid.steps * grid.step_min,
                    course.placed_step * grid.step_min,
                    at_placing,
                )
                for target_h in ages
            ],
            axis=1,
        ).tolist()
        for name, ages in event_ages(mixes).items()
    }

    def window(surface: Surface, name: AgeName, column: int) -> EventWindow:
        seen_at = surface.took_cover_at
        if seen_at is not None and name == surface.cover_from:
            return EventWindow(
                earliest_at=seen_at, expected_at=seen_at, latest_at=seen_at
            )
        instants = [
            grid.starts_at + timedelta(minutes=minute)
            for minute in minutes[name][column]
        ]
        if seen_at is not None:
            expected_min = minutes[surface.cover_from][column][1]
            expected_at = grid.starts_at + timedelta(minutes=expected_min)
            instants = [_as_seen(surface, at, expected_at, seen_at) for at in instants]
        if surface.face != "top" and name not in ("initial_set", "final_set"):
            instants = [max(at, surface.exposed_at) for at in instants]
        if surface.covered_at is not None and name in ("sheen_gone", "takes_cover"):
            instants = [min(at, surface.covered_at) for at in instants]
        earliest, expected, latest = instants
        return EventWindow(earliest_at=earliest, expected_at=expected, latest_at=latest)

    def windows(column: int) -> Windows:
        surface = surfaces[column]
        found: Windows = {
            name: window(surface, name, column)
            for name in minutes
            if name != "final_set"
        }
        sets_as_it_bears = surface.face == "top"
        found["final_set"] = (
            found["bears_people"]
            if sets_as_it_bears
            else window(surface, "final_set", column)
        )
        return found

    return [windows(column) for column in range(len(surfaces))]


def _as_seen(
    surface: Surface, at: datetime, expected_at: datetime, seen_at: datetime
) -> datetime:
    """Move an event as the cover's was found: in the same ratio from placing on."""
    placed_at = surface.placing_ends_at
    if expected_at <= placed_at or seen_at <= placed_at:
        return at + (seen_at - expected_at)
    ratio = (seen_at - placed_at) / (expected_at - placed_at)
    after_min = ceil((at - placed_at) / timedelta(minutes=1) * ratio)
    return placed_at + timedelta(minutes=after_min)


def initial_set_h(surface: Surface, initial_set: EventWindow) -> float:
    """Hours from batching to expected initial set, as warm as the concrete was [h]."""
    after_placing = initial_set.expected_at - surface.placing_ends_at
    return HAUL_H + after_placing.total_seconds() / 3600
