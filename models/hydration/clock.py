"""Clock 1: how warm, how old and how strong every surface is, and when it changes.

The bridge from records to the formulas of this folder. Each surface is marched bare (or
in its forms) until its cover may go on, then under its cover; readings of the site
override the model from their time on.
"""

from collections.abc import Sequence
from datetime import datetime

import numpy as np

from models.drying.surroundings import Surroundings
from models.hydration.ageing import age_and_strength
from models.hydration.course import step_from
from models.hydration.events import Windows, initial_set_h, windows_of
from models.hydration.march import march
from models.profiles.period import CuringEnd, curing_end
from models.records import (
    EventWindow,
    Flags,
    Floats,
    Grid,
    HydrationHistory,
    Mix,
    Profile,
    SiteInput,
    Surface,
    SurfaceEvents,
)

#: Fresh concrete is safe from here up. Its water freezes a little lower, at some -1 to
#: -4 °C (read: PCA and others); EN 13670 asks for 0 °C of the surface (from memory).
FREEZES_C = 0.0
#: Surfaces whose histories are turned to rows at a time for the curing period.
_ROWS = 64


def run(
    surfaces: Sequence[Surface], site_input: SiteInput, around: Surroundings, grid: Grid
) -> HydrationHistory:
    """Run the clock for all surfaces of a site.

    Parameters
    ----------
    surfaces : sequence of Surface
        In the order of the columns of ``around``.
    site_input : SiteInput
        Mixes, profiles, ground and readings.
    around : Surroundings
        Weather at the surfaces, on the same grid.
    grid : Grid
        Steps of the result.

    Raises
    ------
    OutOfRangeError
        If weather, a reading or a mix leads a formula outside its range.
    """
    by_id = {mix.id: mix for mix in site_input.site.mixes}
    mixes = [by_id[surface.mix_id] for surface in surfaces]
    profiles = [site_input.profiles[surface.profile_id] for surface in surfaces]
    course, history, fits = march(surfaces, site_input, around, grid)
    windows = windows_of(surfaces, mixes, course, history, grid)
    surface_c = history.surface_c
    set_h = _hours_from_start([each["final_set"].expected_at for each in windows], grid)
    age_h, strength = age_and_strength(
        surface_c, profiles, mixes, grid.step_min / 60, set_h
    )
    events = tuple(
        _events(*each, grid)
        for each in zip(
            surfaces,
            windows,
            _curing_ends(surfaces, profiles, mixes, windows, grid, surface_c, strength),
            _freezing_steps(surface_c, set_h * 60 / grid.step_min),
            strict=True,
        )
    )
    return HydrationHistory(
        grid=grid,
        surface_ids=tuple(surface.id for surface in surfaces),
        surface_temperature_c=surface_c,
        core_temperature_c=history.core_c,
        mean_temperature_c=history.mean_c,
        equivalent_age_h=age_h,
        strength_fraction=strength,
        events=events,
        fits=tuple(fits.values()),
    )


def _hours_from_start(instants: Sequence[datetime], grid: Grid) -> Floats:
    return np.array([(at - grid.starts_at).total_seconds() / 3600 for at in instants])


def _freezing_steps(surface_c: Floats, set_step: Floats) -> list[int | None]:
    """First step of each surface in which it freezes before it has set."""
    with np.errstate(invalid="ignore"):  # NaN before placing
        frozen: Flags = np.less(surface_c, FREEZES_C)
    if not frozen.any():
        return [None] * len(set_step)
    frozen &= np.arange(len(surface_c))[:, None] < set_step
    return [int(column.argmax()) if column.any() else None for column in frozen.T]


def _curing_ends(
    surfaces: Sequence[Surface],
    profiles: Sequence[Profile],
    mixes: Sequence[Mix],
    windows: Sequence[Windows],
    grid: Grid,
    surface_c: Floats,
    strength: Floats,
) -> list[CuringEnd]:
    """Where each surface's curing period ends, kept damp from placing on."""
    ends: list[CuringEnd] = []
    for first in range(0, len(surfaces), _ROWS):
        part = slice(first, first + _ROWS)
        rows_c = np.ascontiguousarray(surface_c[:, part].T)
        rows = np.ascontiguousarray(strength[:, part].T)
        for i, surface in enumerate(surfaces[part]):
            ends.append(
                curing_end(
                    profiles[first + i],
                    mixes[first + i],
                    surface,
                    step_min=grid.step_min,
                    placed_step=step_from(grid, surface.placing_ends_at),
                    initial_set_h=initial_set_h(
                        surface, windows[first + i]["initial_set"]
                    ),
                    surface_temperature_c=rows_c[i],
                    strength_fraction=rows[i],
                )
            )
    return ends


def _events(
    surface: Surface,
    windows: Windows,
    end: CuringEnd,
    freezing_step: int | None,
    grid: Grid,
) -> SurfaceEvents:
    """Events of a surface; a period is a rule, so its end has no spread of its own."""
    at = None if end.step is None else grid.at(end.step)
    return SurfaceEvents(
        surface_id=surface.id,
        sheen_gone=windows["sheen_gone"],
        takes_cover=windows["takes_cover"],
        bears_people=windows["bears_people"],
        initial_set=windows["initial_set"],
        final_set=windows["final_set"],
        freezes_at=None if freezing_step is None else grid.at(freezing_step),
        curing_ends=at and EventWindow(earliest_at=at, expected_at=at, latest_at=at),
        curing_rule=end.words,
    )
