"""Surfaces of a site marched through their weather: from records to temperatures.

Clock 1 reads its events from them; what would happen if a cover came off at some
instant is a march of its own.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple

import numpy as np

from models.drying.surroundings import Surroundings
from models.hydration.course import bared, course_of, curve_of, heat_of, section_of
from models.hydration.face import Climate, climate
from models.hydration.heat_fit import fit_heat, with_fits
from models.hydration.temperature_history import (
    Course,
    Steps,
    Temperatures,
    temperatures,
)
from models.records import Grid, HeatFit, Reading, SiteInput, Surface

#: Weather comes by the hour, and concrete warms by some 2 K an hour at most.
REFRESH_MIN = 60


class March(NamedTuple):
    """What happened to the surfaces, how warm they were, and the fits by column."""

    course: Course
    history: Temperatures
    fits: Mapping[int, HeatFit]


def march(
    surfaces: Sequence[Surface],
    site_input: SiteInput,
    around: Surroundings,
    grid: Grid,
    fits: Mapping[int, HeatFit] | None = None,
    off_step: Steps | None = None,
) -> March:
    """March surfaces through a grid.

    Parameters
    ----------
    surfaces : sequence of Surface
        In the order of the columns of ``around``.
    site_input : SiteInput
        Mixes, ground and readings.
    around : Surroundings
        Weather at the surfaces, on this grid or a longer one.
    grid : Grid
        Steps of the result.
    fits : mapping or None
        Column -> fit of its heat, where it is known; None to fit the readings.
    off_step : array of int or None
        First step of each surface bare again, all covers lifted.

    Raises
    ------
    OutOfRangeError
        If weather, a reading or a mix leads a formula outside its range.
    """
    by_id = {mix.id: mix for mix in site_input.site.mixes}
    mixes = [by_id[surface.mix_id] for surface in surfaces]
    readings: dict[str, list[Reading]] = {}
    for reading in site_input.readings:
        readings.setdefault(reading.surface_id, []).append(reading)
    ground_c = site_input.site.ground_temperature_c
    course = course_of(surfaces, mixes, readings, grid, ground_c)
    if off_step is not None:
        course = bared(course, off_step)
    refresh_steps = max(1, REFRESH_MIN // grid.step_min)
    weather = _climate(around, grid, refresh_steps)
    if fits is None:
        fits = fit_heat(
            surfaces, mixes, readings, grid, weather, refresh_steps, ground_c
        )
    energy = course.heat_energy_j_mol.copy()
    for column, found in fits.items():
        energy[column] = found.fitted.energy_j_mol
    history = temperatures(
        section_of(surfaces),
        heat_of(mixes, with_fits(curve_of(mixes), mixes, fits)),
        replace(course, heat_energy_j_mol=energy),
        weather,
        grid.steps,
        grid.step_min,
        refresh_steps,
    )
    return March(course, history, fits)


def _climate(around: Surroundings, grid: Grid, refresh_steps: int) -> Climate:
    """Take the weather in the middle of each refresh."""
    middle = np.arange(0, grid.steps, refresh_steps) + refresh_steps // 2
    middle = np.minimum(middle, grid.steps - 1)
    return climate(
        around.air_temperature_c[middle],
        around.humidity_fraction[middle],
        around.wind_m_s[middle],
        around.solar_w_m2[middle],
        around.sky_temperature_c[middle],
    )
