"""Temperature histories: surfaces placed, covered and measured at steps of their own.

Formulas only, one loop for all surfaces. The state of a surface decides its cover: it
goes on when the setting age says so.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from models.drying.ranges import Floats
from models.hydration.face import Climate, Layers, film_and_outside
from models.hydration.heat import HeatCurve, heat_rate
from models.hydration.section import GROUND_DEPTH_M
from models.hydration.setting import setting_rate
from models.hydration.temperature import HeatSolver, Section

Steps = NDArray[np.int64]


class Measured(NamedTuple):
    """Temperatures measured on one surface at one step; at least one of them."""

    surface: int
    surface_c: float | None
    core_c: float | None


@dataclass(frozen=True)
class Course:
    """What happens to the surfaces; arrays ``(surfaces,)``.

    Attributes
    ----------
    placed_step, bare_step : array of int
        First step with concrete; first step without forms on the face.
    covered_step : array of int
        First step under the cover, where that is known beforehand; else beyond all.
    cover_at_h : array
        Setting age at which the cover goes on; infinite where a step is known.
    setting_energy_j_mol : array
        Activation energy of setting and of the heat of hydration.
    age_when_placed_h : array
        Setting age that the concrete brings along.
    placing_temperature_c : array
        Of the fresh concrete.
    ground_temperature_c : float
        Of the ground at depth.
    stages : tuple of Layers
        In forms, bare, covered, then under each of the later covers.
    measured : mapping
        Step -> what was measured then.
    later_steps : tuple of array of int
        First step of each later cover, rising, once there is a cover at all; beyond all
        where a surface has none.
    """

    placed_step: Steps
    bare_step: Steps
    covered_step: Steps
    cover_at_h: Floats
    setting_energy_j_mol: Floats
    age_when_placed_h: Floats
    placing_temperature_c: Floats
    ground_temperature_c: float
    stages: tuple[Layers, ...]
    measured: Mapping[int, Sequence[Measured]]
    later_steps: tuple[Steps, ...] = ()


@dataclass(frozen=True)
class Temperatures:
    """Temperatures at the beginning of steps, ``(steps, surfaces)``; NaN if not placed.

    ``setting_age_h`` is ``(refreshes + 1, surfaces)``, at the beginning of every
    ``refresh_steps``-th step and at the end, from the age when placed.
    """

    surface_c: Floats
    core_c: Floats
    mean_c: Floats
    setting_age_h: Floats
    refresh_steps: int


def temperatures(
    section: Section,
    heat: HeatCurve,
    course: Course,
    weather: Climate,
    steps: int,
    step_min: int,
    refresh_steps: int,
) -> Temperatures:
    """March sections through the weather.

    Parameters
    ----------
    section : Section
        All sections.
    heat : HeatCurve
        Heat of hydration of their concretes.
    course : Course
        What happens to them.
    weather : Climate
        One row for each refresh, of the middle of the time until the next.
    steps, step_min : int
        How many steps, and how long one is. [min]
    refresh_steps : int
        Weather, covers, setting and heat of hydration are looked at every so many
        steps.
    """
    placed = course.placed_step
    surfaces = placed.size
    laid_c = _as_placed_c(section, course, weather)
    solver = HeatSolver(section, step_min * 60.0, laid_c)
    surface_c = np.empty((steps, surfaces))
    core_c, mean_c = np.empty_like(surface_c), np.empty_like(surface_c)
    just_placed = _surfaces_by_step(placed)

    refreshes = len(weather.air_c)
    setting_h = np.repeat(course.age_when_placed_h[None, :], refreshes + 1, axis=0)
    curve_h = np.zeros(section.size_m.shape)
    released_j_m3 = np.zeros(section.size_m.shape)
    last_c = laid_c.copy()
    stage = np.full(surfaces, -1)
    layers = Layers(*(figures.copy() for figures in course.stages[0]))
    face_c = course.placing_temperature_c
    ground = ~section.concrete[-1]

    for index, start in enumerate(range(0, steps, refresh_steps)):
        stop = min(start + refresh_steps, steps)
        if not (placed < stop).any():
            continue
        waiting = placed >= start
        if waiting.any():
            np.copyto(solver.temperature_c, laid_c, where=waiting)
            np.copyto(last_c, laid_c, where=waiting)
            face_c = np.where(waiting, course.placing_temperature_c, face_c)

        covered = setting_h[index] >= course.cover_at_h
        covered |= start >= course.covered_step
        now = np.where(covered, 2, start >= course.bare_step)
        for later, first in enumerate(course.later_steps, start=3):
            now = np.where(covered & (start >= first), later, now)
        for reached, there in enumerate(course.stages):
            entering = (now == reached) & (stage != reached)
            if entering.any():
                for part, figures in zip(layers, there, strict=True):
                    np.copyto(part, figures, where=entering)
        stage = now
        sky = weather.row(index)
        solver.set_face(layers.resistance_m2k_w, *film_and_outside(face_c, sky, layers))
        solver.set_far(np.where(ground, course.ground_temperature_c, sky.air_c))

        hours = np.clip(stop - placed, 0, stop - start) * (step_min / 60)
        # Young concrete warms by a kelvin or two until the next refresh: its heat is
        # that of the middle of this time, if it warms as it did in the one before.
        last_c *= -0.5
        last_c += 1.5 * solver.temperature_c
        rate = heat_rate(last_c, course.setting_energy_j_mol)
        rate *= hours
        curve_h += rate
        np.copyto(last_c, solver.temperature_c)
        more_j_m3 = heat.released_j_m3(curve_h)
        released_j_m3 -= more_j_m3
        released_j_m3 *= -1 / ((stop - start) * solver.step_s)
        solver.set_source(released_j_m3)
        released_j_m3 = more_j_m3

        for step in range(start, stop):
            if step in just_placed:
                just = just_placed[step]
                solver.temperature_c[:, just] = laid_c[:, just]
            for found in course.measured.get(step, ()):
                if placed[found.surface] <= step:
                    solver.pass_through(*found)
            solver.surface_c(out=surface_c[step])
            solver.core_c(out=core_c[step])
            solver.mean_c(out=mean_c[step])
            solver.step()

        middle_c = surface_c[(start + stop) // 2]
        rate = setting_rate(middle_c, course.setting_energy_j_mol)
        setting_h[index + 1] = setting_h[index] + rate * hours
        face_c = solver.face_c()

    for surface, step in enumerate(placed):
        for history in (surface_c, core_c, mean_c):
            history[: max(step, 0), surface] = np.nan
    return Temperatures(surface_c, core_c, mean_c, setting_h, refresh_steps)


def _surfaces_by_step(placed_step: Steps) -> dict[int, Steps]:
    """Say which surfaces are placed at a step."""
    order = np.argsort(placed_step, kind="stable")
    at, first = np.unique(placed_step[order], return_index=True)
    return dict(zip(at.tolist(), np.split(order, first[1:]), strict=True))


def _as_placed_c(section: Section, course: Course, weather: Climate) -> Floats:
    """Sections at placing: fresh concrete as it came, ground between air and depth.

    The ground's top is as warm as the site's air on average over the run (assumption:
    nobody measures it), and straight from there to the temperature at depth.
    """
    top_m = np.where(section.concrete, section.size_m, 0.0).sum(axis=0)
    reach = (section.centre_m - top_m) / GROUND_DEPTH_M
    mean_c = weather.air_c.mean(axis=0)
    ground_c = mean_c + (course.ground_temperature_c - mean_c) * reach
    return np.where(section.concrete, course.placing_temperature_c, ground_c)
