"""Temperature histories: sections placed, covered and read at steps of their own.

Formulas only, one loop for all surfaces whose sections have one shape. The state of a
surface decides its cover: the cover goes on when its setting age says so.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from models.drying.ranges import Floats
from models.hydration.face import film_and_outside
from models.hydration.heat import HeatCurve, heat_rate
from models.hydration.section import GROUND_DEPTH_M
from models.hydration.setting import setting_rate
from models.hydration.temperature import HeatSolver, Section

Steps = NDArray[np.int64]

#: Weather, covers and heat of hydration are looked at this often. Weather comes by the
#: hour, and concrete warms by some 2 K an hour at most.
REFRESH_MIN = 30


class Layers(NamedTuple):
    """What lies on the face in one stage of its life; arrays ``(surfaces,)``."""

    resistance_m2k_w: Floats
    absorptivity_fraction: Floats
    emissivity_fraction: Floats
    evaporation_factor: Floats


class Measured(NamedTuple):
    """Temperatures measured on one surface at one step."""

    surface: int
    surface_c: float | None
    core_c: float | None


class Outdoors(NamedTuple):
    """The weather at the faces; every array ``(steps, surfaces)`` or ``(steps, 1)``."""

    air_temperature_c: Floats
    humidity_fraction: Floats
    wind_m_s: Floats
    solar_w_m2: Floats
    sky_temperature_c: Floats


@dataclass(frozen=True)
class Course:
    """What happens to the surfaces; arrays ``(surfaces,)`` unless said otherwise.

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
    far_temperature_c : float or None
        Of the ground at depth; None where air is on the far side.
    stages : tuple of Layers
        In forms, bare, covered.
    measured : mapping
        Step -> what was measured then.
    """

    placed_step: Steps
    bare_step: Steps
    covered_step: Steps
    cover_at_h: Floats
    setting_energy_j_mol: Floats
    age_when_placed_h: Floats
    placing_temperature_c: Floats
    far_temperature_c: float | None
    stages: tuple[Layers, Layers, Layers]
    measured: Mapping[int, Sequence[Measured]]


@dataclass(frozen=True)
class Temperatures:
    """Temperatures at the beginning of steps, ``(steps, surfaces)``; NaN if not placed.

    ``setting_age_h`` is ``(refreshes + 1, surfaces)``, at the beginning of every
    ``refresh_steps``-th step, from the age when placed.
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
    outdoors: Outdoors,
    columns: Steps,
    step_min: int,
) -> Temperatures:
    """March sections of one shape through the weather.

    Parameters
    ----------
    section : Section
        All sections, ``(cells, surfaces)``.
    heat : HeatCurve
        Heat of hydration of their concretes.
    course : Course
        What happens to them.
    outdoors : Outdoors
        Weather of the whole site.
    columns : array of int (surfaces,)
        Which columns of the weather are theirs.
    step_min : int
        Length of a step. [min]
    """
    steps = outdoors.air_temperature_c.shape[0]
    surfaces = columns.size
    refresh = max(1, REFRESH_MIN // step_min)
    placed = course.placed_step
    by_step = _columns_by_step(placed)
    laid_c = _as_placed_c(section, course, outdoors, columns)
    solver = HeatSolver(section, step_min * 60.0, laid_c)
    surface_c = np.empty((steps, surfaces))
    core_c, mean_c = np.empty_like(surface_c), np.empty_like(surface_c)

    setting_h = np.repeat(
        course.age_when_placed_h[None, :], -(-steps // refresh) + 1, axis=0
    )
    curve_h = np.zeros((section.concrete_cells, surfaces))
    released = heat.released_j_m3(curve_h)
    stage = np.full(surfaces, -1)
    layers = course.stages[0]
    face_c = course.placing_temperature_c.copy()
    if course.far_temperature_c is not None:
        solver.set_far(np.full(surfaces, course.far_temperature_c))

    for index, start in enumerate(range(0, steps, refresh)):
        stop = min(start + refresh, steps)
        if not (placed < stop).any():
            continue
        waiting = placed >= start
        if waiting.any():
            np.copyto(solver.temperature_c, laid_c, where=waiting)
            np.copyto(face_c, course.placing_temperature_c, where=waiting)

        covered = (setting_h[index] >= course.cover_at_h) | (
            start >= course.covered_step
        )
        now = np.where(covered, 2, np.where(start >= course.bare_step, 1, 0))
        if (now != stage).any():
            stage = now
            layers = Layers(
                *(np.choose(stage, parts) for parts in zip(*course.stages, strict=True))
            )
        weather = Outdoors(
            *(_row(values, (start + stop - 1) // 2, columns) for values in outdoors)
        )
        film_w_m2k, outside_c = film_and_outside(face_c, *weather, *layers[1:])
        solver.set_face(layers.resistance_m2k_w, film_w_m2k, outside_c)
        if course.far_temperature_c is None:
            solver.set_far(weather.air_temperature_c)

        hours = np.clip(stop - placed, 0, stop - start) * (step_min / 60)
        concrete_c = solver.temperature_c[: section.concrete_cells]
        curve_h += heat_rate(concrete_c, course.setting_energy_j_mol) * hours
        more = heat.released_j_m3(curve_h)
        released -= more
        released *= -1 / ((stop - start) * solver.step_s)
        solver.set_source(released)
        released = more

        for step in range(start, stop):
            if step in by_step:
                just = by_step[step]
                solver.temperature_c[:, just] = laid_c[:, just]
            for found in course.measured.get(step, ()):
                if placed[found.surface] <= step:
                    solver.pass_through(*found)
            solver.surface_c(out=surface_c[step])
            core_c[step] = solver.core_c()
            solver.mean_c(out=mean_c[step])
            solver.step()

        rate = setting_rate(surface_c[(start + stop - 1) // 2],
                            course.setting_energy_j_mol)  # fmt: skip
        setting_h[index + 1] = setting_h[index] + rate * hours
        face_c = solver.face_c()

    before = np.arange(steps)[:, None] < placed
    for history in (surface_c, core_c, mean_c):
        np.copyto(history, np.nan, where=before)
    return Temperatures(surface_c, core_c, mean_c, setting_h, refresh)


def _columns_by_step(placed_step: Steps) -> dict[int, Steps]:
    """Which surfaces are placed at a step."""
    order = np.argsort(placed_step, kind="stable")
    at, first = np.unique(placed_step[order], return_index=True)
    return dict(zip(at.tolist(), np.split(order, first[1:]), strict=True))


def _row(values: Floats, step: int, columns: Steps) -> Floats:
    """One step of the weather, for these surfaces."""
    row = values[step]
    return np.broadcast_to(row, columns.shape) if row.size == 1 else row[columns]


def _as_placed_c(
    section: Section, course: Course, outdoors: Outdoors, columns: Steps
) -> Floats:
    """Sections at placing: fresh concrete as it came, ground between air and depth.

    The ground's top is as warm as the site's air on average over the run (assumption:
    nobody measures it), and straight from there to the temperature at depth.
    """
    laid_c = np.repeat(course.placing_temperature_c[None, :],
                       section.size_m.shape[0], axis=0)  # fmt: skip
    if course.far_temperature_c is not None:
        mean_c = _row(
            outdoors.air_temperature_c.mean(axis=0, keepdims=True), 0, columns
        )
        concrete = section.concrete_cells
        top_m = section.size_m[:concrete].sum(axis=0)
        reach = (section.centre_m[concrete:] - top_m) / GROUND_DEPTH_M
        laid_c[concrete:] = mean_c + (course.far_temperature_c - mean_c) * reach
    return laid_c
