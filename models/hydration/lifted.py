"""What a face would go through if it were laid bare: clock 1 asked "and then?"."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import NamedTuple

import numpy as np

from models.drying.surroundings import Surroundings
from models.hydration.course import step_from
from models.hydration.march import march
from models.records import Floats, HydrationHistory, SiteInput, Surface

#: How long what a removal does is followed: the face has followed the air by then, and
#: the core has not (assumption).
FOLLOWED = timedelta(days=3)
#: So many are marched at a time: their histories fit into memory together.
_TOGETHER = 250


class Lifting(NamedTuple):
    """An instant in a surface's life; ``bare`` where all covers are lifted then.

    Else what follows is what the surface itself says: forms struck, a cover changed.
    """

    surface: Surface
    at: datetime
    bare: bool = True


@dataclass(frozen=True)
class Lifted:
    """A surface from that step on, for :data:`FOLLOWED` or shorter.

    ``column`` is the surface's in the clock's arrays.
    """

    face_c: Floats
    mean_c: Floats
    core_c: Floats
    step_min: int
    column: int


def lifted(
    liftings: Sequence[Lifting],
    site_input: SiteInput,
    around: Surroundings,
    hydration: HydrationHistory,
) -> list[Lifted]:
    """March each lifting by itself; a surface may be lifted at several instants.

    Parameters
    ----------
    liftings : sequence of Lifting
        Within the grid of the clock.
    site_input : SiteInput
        Mixes, ground and readings.
    around : Surroundings
        Weather at the surfaces of ``hydration``, in their order.
    hydration : HydrationHistory
        Clock 1 with all covers kept on: its grid, and what it made of readings.
    """
    return [
        one
        for first in range(0, len(liftings), _TOGETHER)
        for one in _together(
            liftings[first : first + _TOGETHER], site_input, around, hydration
        )
    ]


def _together(
    liftings: Sequence[Lifting],
    site_input: SiteInput,
    around: Surroundings,
    hydration: HydrationHistory,
) -> list[Lifted]:
    grid = hydration.grid
    starts = np.array([step_from(grid, lifting.at) for lifting in liftings])
    bare = np.array([lifting.bare for lifting in liftings])
    ends = np.minimum(starts + FOLLOWED // timedelta(minutes=grid.step_min), grid.steps)
    column = {surface_id: i for i, surface_id in enumerate(hydration.surface_ids)}
    fitted = {fit.surface_id: fit for fit in hydration.fits}
    surfaces = [lifting.surface for lifting in liftings]
    found = march(
        surfaces,
        site_input,
        around.at_columns([column[surface.id] for surface in surfaces]),
        replace(grid, steps=int(ends.max())),
        {i: fitted[s.id] for i, s in enumerate(surfaces) if s.id in fitted},
        np.where(bare, starts, grid.steps),
    ).history
    # The step itself has the new film at its face already.
    before = np.maximum(starts - 1, 0)
    each = np.arange(len(liftings))
    found.surface_c[starts, each] = found.surface_c[before, each]
    return [
        Lifted(
            found.surface_c[start:end, i],
            found.mean_c[start:end, i],
            found.core_c[start:end, i],
            grid.step_min,
            column[liftings[i].surface.id],
        )
        for i, (start, end) in enumerate(zip(starts, ends, strict=True))
    ]
