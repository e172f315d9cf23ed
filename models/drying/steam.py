"""The air in a steam enclosure: up from the weather's, even, and down to it again."""

from typing import NamedTuple

import numpy as np

from models.drying.ranges import Flags, Floats


class CycleHours(NamedTuple):
    """When a cycle turns, in hours from the first of the values it is laid over."""

    starts_h: float
    hold_from_h: float
    hold_until_h: float
    ends_h: float


def steam_air_c(
    outside_c: Floats, step_h: float, cycle: CycleHours, hold_c: float
) -> tuple[Floats, Flags]:
    r"""Temperature of the air around a surface that is steamed for a time.

    Parameters
    ----------
    outside_c : array (steps,)
        Air outside at the beginning of each step. [°C]
    step_h : float
        Length of a step. [h]
    cycle : CycleHours
        When the cycle turns.
    hold_c : float
        Temperature that is held. [°C]

    Returns
    -------
    tuple of array
        Air at the surface [°C], and whether steam surrounds it.

    Notes
    -----
    Straight lines from the air outside when steam is let in to the hold, along it, and
    down to the air outside when the cycle ends; never colder than outside. Saturated
    and still all the while.
    """
    hours = np.arange(outside_c.size) * step_h
    first_c, last_c = np.interp([cycle.starts_h, cycle.ends_h], hours, outside_c)
    inside_c = np.interp(hours, cycle, [first_c, hold_c, hold_c, last_c])
    steamed = (hours >= cycle.starts_h) & (hours < cycle.ends_h)
    return np.where(steamed, np.maximum(inside_c, outside_c), outside_c), steamed
