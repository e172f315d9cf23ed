"""Which cover a surface is planned to lie under, step by step, as arrays of figures."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import timedelta

import numpy as np

from models.drying.film import seam_leak_kg_m2_h_kpa, seams_m_m2
from models.records import CoverProperties, Floats, Grid, Surface


@dataclass(frozen=True)
class CoverSteps:
    """Figures of covers as arrays ``(steps, surfaces)``.

    ``film_kg_m2_h_kpa`` is infinite where a wet face is open to the air,
    ``leak_kg_m2_h_kpa`` that of the seams, a m/s of wind. Where no surface changes its
    cover one row stands for all steps.
    """

    held_l_m2: Floats
    film_kg_m2_h_kpa: Floats
    leak_kg_m2_h_kpa: Floats
    takes_rain: Floats
    resistance_m2k_w: Floats
    absorptivity_fraction: Floats
    emissivity_fraction: Floats
    leak_mm_d: Floats
    loss_factor: Floats

    def rows(self, rows: slice) -> "CoverSteps":
        """Return the figures of some steps."""
        return CoverSteps(
            *(all_ if len(all_) == 1 else all_[rows] for all_ in vars(self).values())
        )


def film_of(cover: CoverProperties) -> float:
    """Vapour that passes the cover itself, without end where its face is open."""
    return np.inf if cover.film_kg_m2_h_kpa is None else cover.film_kg_m2_h_kpa


def leak_of(cover: CoverProperties, area_m2: float) -> float:
    """Vapour that leaves by the seams of a cover on a surface, a m/s of wind."""
    return float(seam_leak_kg_m2_h_kpa(cover.seam_loss_l_m_d, seams_m_m2(area_m2)))


def stage_steps(surface: Surface, grid: Grid) -> list[int]:
    """First step of each of a surface's covers; the first cover is there from 0 on.

    A later one counts from the first step that begins at its start or after it.
    """
    step = timedelta(minutes=grid.step_min)
    starts = (stage.starts_at for stage in surface.later)
    return [0, *(-int((grid.starts_at - at) // step) for at in starts)]


def covers_by_step(surfaces: Sequence[Surface], grid: Grid) -> CoverSteps:
    """Lay out the covers planned for each step, on the concrete or not yet."""
    steps = grid.steps if any(surface.later for surface in surfaces) else 1

    def figures(of: Callable[[CoverProperties], float]) -> Floats:
        return by_area(lambda cover, _: of(cover))

    def by_area(of: Callable[[CoverProperties, float], float]) -> Floats:
        values = np.empty((steps, len(surfaces)))
        for column, surface in enumerate(surfaces):
            starts = stage_steps(surface, grid)
            for first, cover in zip(starts, surface.covers, strict=True):
                values[max(0, first) :, column] = of(cover, surface.area_m2)
        return values

    return CoverSteps(
        held_l_m2=figures(lambda cover: cover.held_l_m2),
        film_kg_m2_h_kpa=figures(film_of),
        leak_kg_m2_h_kpa=by_area(leak_of),
        takes_rain=figures(lambda cover: float(cover.takes_rain)),
        resistance_m2k_w=figures(lambda cover: cover.resistance_m2k_w),
        absorptivity_fraction=figures(lambda cover: cover.absorptivity_fraction),
        emissivity_fraction=figures(lambda cover: cover.emissivity_fraction),
        leak_mm_d=figures(lambda cover: cover.leak_mm_d),
        loss_factor=figures(lambda cover: cover.loss_factor),
    )
