"""Clock 1: how warm, how old and how strong every surface is, and when it changes.

The bridge from records to the formulas of this folder. Each surface is marched bare (or
in its forms) until its cover may go on, then under its cover; readings of the site
override the model from their time on.
"""

from collections.abc import Sequence

import numpy as np

from models.drying.surroundings import Surroundings
from models.hydration.ageing import age_and_strength
from models.hydration.course import (
    Shape,
    course_of,
    heat_of,
    section_of,
    shape_of,
    step_from,
)
from models.hydration.events import Windows, windows_of
from models.hydration.temperature_history import Outdoors, temperatures
from models.profiles.period import CuringEnd, curing_end
from models.records import (
    EventWindow,
    Floats,
    Grid,
    HydrationHistory,
    Mix,
    Profile,
    Reading,
    SiteInput,
    Surface,
    SurfaceEvents,
)

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
    readings: dict[str, list[Reading]] = {}
    for reading in site_input.readings:
        readings.setdefault(reading.surface_id, []).append(reading)
    outdoors = Outdoors(
        around.air_temperature_c,
        around.humidity_fraction,
        around.wind_m_s,
        around.solar_w_m2,
        around.sky_temperature_c,
    )

    groups: dict[Shape, list[int]] = {}
    for column, surface in enumerate(surfaces):
        groups.setdefault(shape_of(surface), []).append(column)
    shape = (grid.steps, len(surfaces))
    surface_c, core_c, mean_c = np.empty(shape), np.empty(shape), np.empty(shape)
    windows: dict[int, Windows] = {}
    for kind, columns in groups.items():
        members = [surfaces[i] for i in columns]
        of_members = [mixes[i] for i in columns]
        course = course_of(
            kind, members, of_members, readings, grid,
            site_input.site.ground_temperature_c,
        )  # fmt: skip
        history = temperatures(
            section_of(kind, members), heat_of(of_members), course, outdoors,
            np.array(columns), grid.step_min,
        )  # fmt: skip
        surface_c[:, columns] = history.surface_c
        core_c[:, columns] = history.core_c
        mean_c[:, columns] = history.mean_c
        found = windows_of(members, of_members, course, history, grid)
        windows.update(zip(columns, found, strict=True))

    age_h, strength = age_and_strength(surface_c, profiles, mixes, grid.step_min / 60)
    ends = _curing_ends(surfaces, profiles, mixes, grid, surface_c, strength)
    return HydrationHistory(
        grid=grid,
        surface_ids=tuple(surface.id for surface in surfaces),
        surface_temperature_c=surface_c,
        core_temperature_c=core_c,
        mean_temperature_c=mean_c,
        equivalent_age_h=age_h,
        strength_fraction=strength,
        events=tuple(
            _events(surface, windows[column], end, grid)
            for column, (surface, end) in enumerate(zip(surfaces, ends, strict=True))
        ),
    )


def _curing_ends(
    surfaces: Sequence[Surface],
    profiles: Sequence[Profile],
    mixes: Sequence[Mix],
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
                    surface_temperature_c=rows_c[i],
                    strength_fraction=rows[i],
                )
            )
    return ends


def _events(
    surface: Surface, windows: Windows, end: CuringEnd, grid: Grid
) -> SurfaceEvents:
    """Events of a surface; a period is a rule, so its end has no spread of its own."""
    at = None if end.step is None else grid.at(end.step)
    return SurfaceEvents(
        surface_id=surface.id,
        sheen_gone=windows["sheen_gone"],
        takes_cover=windows["takes_cover"],
        bears_people=windows["bears_people"],
        curing_ends=at and EventWindow(earliest_at=at, expected_at=at, latest_at=at),
        curing_rule=end.words,
    )
