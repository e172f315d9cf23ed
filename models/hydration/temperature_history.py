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
from models.hydration.face import (
    Climate,
    Layers,
    face_soon_c,
    film_and_outside,
    with_capacity,
)
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
    setting_energy_j_mol, heat_energy_j_mol : array
        Activation energies of setting and of the heat of hydration.
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
    heat_energy_j_mol: Floats
    age_when_placed_h: Floats
    placing_temperature_c: Floats
    ground_temperature_c: float
    stages: tuple[Layers, ...]
    measured: Mapping[int, Sequence[Measured]]
    later_steps: tuple[Steps, ...] = ()


@dataclass(frozen=True)
class Temperatures:
    """Temperatures at the beginning of steps, ``(steps, surfaces)``; NaN if not placed.

    ``core_c`` is that of the warmest concrete, ``middle_c`` that half way through.
    ``setting_age_h`` is ``(refreshes + 1, surfaces)``, at the beginning of every
    ``refresh_steps``-th step and at the end, from the age when placed.
    """

    surface_c: Floats
    core_c: Floats
    middle_c: Floats
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
    march = _March(section, heat, course, weather, steps, step_min, refresh_steps)
    refreshes = [
        range(start, min(start + refresh_steps, steps))
        for start in range(0, steps, refresh_steps)
    ]
    setting_h = np.repeat(course.age_when_placed_h[None, :], len(refreshes) + 1, axis=0)
    for index, during in enumerate(refreshes):
        if not (course.placed_step < during.stop).any():
            continue
        march.begin(during)
        march.meet_weather(index, during.start, _half_way_h(setting_h, index))
        march.hydrate(during)
        march.go(during)
        setting_h[index + 1] = setting_h[index] + march.set_h(during)
    march.forget_before_placing()
    return Temperatures(
        march.surface_c,
        march.core_c,
        march.middle_c,
        march.mean_c,
        setting_h,
        refresh_steps,
    )


def _half_way_h(setting_h: Floats, index: int) -> Floats:
    """Look half a refresh ahead, for covers go on at the one nearest their time."""
    return np.asarray(1.5 * setting_h[index] - 0.5 * setting_h[max(index - 1, 0)])


class _March:
    """The state of a run; a refresh is a range of steps."""

    def __init__(
        self,
        section: Section,
        heat: HeatCurve,
        course: Course,
        weather: Climate,
        steps: int,
        step_min: int,
        refresh_steps: int,
    ) -> None:
        self.section, self.heat = section, heat
        self.course, self.weather = course, weather
        self.step_h, self.refresh_s = step_min / 60, refresh_steps * step_min * 60.0
        self.laid_c = _as_placed_c(section, course, weather)
        self.solver = HeatSolver(section, step_min * 60.0, self.laid_c)
        surfaces = course.placed_step.size
        self.surface_c = np.empty((steps, surfaces))
        self.core_c, self.middle_c, self.mean_c = np.empty((3, steps, surfaces))
        self.just_placed = _surfaces_by_step(course.placed_step)
        self.stage = np.full(surfaces, -1)
        self.layers = Layers(*(figures.copy() for figures in course.stages[0]))
        self.face_c = course.placing_temperature_c.copy()
        self.concrete_c = self.face_c.copy()
        self.flow_w_m2 = np.zeros(surfaces)
        self.effusivity_w_s05_m2k = np.sqrt(
            section.conductivity_w_mk[0] * section.capacity_j_m3k[0]
        )
        self.last_c = self.laid_c.copy()
        self.curve_h = np.zeros(self.laid_c.shape)
        self.released_j_m3 = np.zeros(self.laid_c.shape)

    def begin(self, during: range) -> None:
        """Lay what is placed in this refresh; the rest to come march along unseen."""
        placed = self.course.placed_step
        coming = np.flatnonzero((placed >= during.start) & (placed < during.stop))
        self.solver.lay(self.laid_c, coming)
        self.last_c[:, coming] = self.laid_c[:, coming]
        self.face_c[coming] = self.course.placing_temperature_c[coming]
        self.concrete_c[coming], self.flow_w_m2[coming] = self.face_c[coming], 0.0

    def meet_weather(self, index: int, step: int, setting_h: Floats) -> None:
        """Put layers on or off, and the refresh's weather before them.

        Radiation and evaporation bend: their tangents lie at the temperature that the
        face is likely to have half way, as a fresh one cools by many kelvin at once.
        """
        course = self.course
        covered = (setting_h >= course.cover_at_h) | (step >= course.covered_step)
        now = np.where(covered, 2, step >= course.bare_step)
        for later, first in enumerate(course.later_steps, start=3):
            now = np.where(covered & (step >= first), later, now)
        for stage, figures in enumerate(course.stages):
            entering = (now == stage) & (self.stage != stage)
            if entering.any():
                for part, new in zip(self.layers, figures, strict=True):
                    np.copyto(part, new, where=entering)
                cold = entering & ~np.isnan(figures.laid_at_c)
                np.copyto(self.face_c, figures.laid_at_c, where=cold)
        self.stage = now

        sky = self.weather.row(index)
        lies_m2k_w = self.layers.resistance_m2k_w
        soon_c = face_soon_c(
            self.concrete_c,
            self.flow_w_m2,
            self.effusivity_w_s05_m2k,
            lies_m2k_w,
            *self.met(sky, self.face_c),
            self.refresh_s / 2,
        )
        self.solver.set_face(lies_m2k_w, *self.met(sky, soon_c))
        on_air = self.section.concrete[-1]
        self.solver.set_far(np.where(on_air, sky.air_c, course.ground_temperature_c))

    def met(self, sky: Climate, near_c: Floats) -> tuple[Floats, Floats]:
        """Film and outside of a refresh, as tangents at a temperature of the face."""
        film_w_m2k, outside_c = film_and_outside(near_c, sky, self.layers)
        if not self.layers.capacity_j_m2k.any():
            return film_w_m2k, outside_c
        return with_capacity(
            film_w_m2k,
            outside_c,
            self.face_c,
            self.layers.capacity_j_m2k,
            self.refresh_s,
        )

    def hours(self, during: range) -> Floats:
        """How long each surface has been concrete in a refresh [h]."""
        steps = np.clip(during.stop - self.course.placed_step, 0, len(during))
        return np.asarray(steps * self.step_h)

    def hydrate(self, during: range) -> None:
        """Release the heat of hydration of a refresh.

        Young concrete warms by a kelvin or two until the next one: its heat is that of
        the middle of this time, if it warms as it did in the one before.
        """
        now_c, middle_c = self.solver.temperature_c, self.last_c
        middle_c *= -0.5
        middle_c += 1.5 * now_c
        self.last_c = now_c
        grown_h = heat_rate(middle_c, self.course.heat_energy_j_mol)
        grown_h *= self.hours(during)
        self.curve_h += grown_h
        more_j_m3, before_j_m3 = (
            self.heat.released_j_m3(self.curve_h),
            self.released_j_m3,
        )
        self.released_j_m3 = more_j_m3
        before_j_m3 -= more_j_m3
        before_j_m3 *= -1 / (len(during) * self.solver.step_s)
        self.solver.set_source(before_j_m3)

    def go(self, during: range) -> None:
        """March through the steps of a refresh."""
        solver, placed = self.solver, self.course.placed_step
        for step in during:
            if step in self.just_placed:
                solver.lay(self.laid_c, self.just_placed[step])
            for found in self.course.measured.get(step, ()):
                if placed[found.surface] <= step:
                    solver.pass_through(*found)
            solver.surface_c(out=self.surface_c[step])
            solver.core_c(out=self.core_c[step])
            solver.middle_c(out=self.middle_c[step])
            solver.mean_c(out=self.mean_c[step])
            solver.step()
        self.face_c = solver.face_c()
        self.concrete_c = solver.surface_c()
        self.flow_w_m2 = solver.face_flow_w_m2()

    def set_h(self, during: range) -> Floats:
        """Hours of setting at 20 °C that a refresh was worth [h]."""
        middle_c = self.surface_c[(during.start + during.stop) // 2]
        rate = setting_rate(middle_c, self.course.setting_energy_j_mol)
        return np.asarray(rate * self.hours(during))

    def forget_before_placing(self) -> None:
        """Leave no number where there was no concrete."""
        placed = self.course.placed_step
        for step in range(min(int(placed.max()), len(self.surface_c))):
            before = placed > step
            for history in (self.surface_c, self.core_c, self.middle_c, self.mean_c):
                np.copyto(history[step], np.nan, where=before)


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
