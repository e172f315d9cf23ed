"""Blankets that cannot wait: frost comes before the face would bear people."""

from collections.abc import Sequence

import numpy as np

from models.records import HydrationHistory, Surface

#: A cover of this resistance or more keeps concrete warm (assumption: wet covers have
#: a fiftieth of it). [m² K/W]
_INSULATES_M2K_W = 0.2
_FREEZES_C = 0.0


def covered_at_once(
    surfaces: Sequence[Surface], hydration: HydrationHistory
) -> tuple[Surface, ...]:
    """Let blankets go on right after placing where the bare face would freeze first.

    Parameters
    ----------
    surfaces : sequence of Surface
        In the order of the columns of ``hydration``.
    hydration : HydrationHistory
        Clock 1, each cover waiting for its own event.
    """
    return tuple(
        surface.model_copy(update={"at_once": True})
        if _frost_first(surface, column, hydration)
        else surface
        for column, surface in enumerate(surfaces)
    )


def _frost_first(surface: Surface, column: int, hydration: HydrationHistory) -> bool:
    """Whether a top that waits for its blankets falls below 0 °C on the way."""
    waits = surface.face == "top" and surface.covered_at is None
    insulates = surface.cover.resistance_m2k_w >= _INSULATES_M2K_W
    if not waits or not insulates or surface.steam is not None:
        return False
    grid, events = hydration.grid, hydration.events[column]
    ready_at = {
        "sheen_gone": events.sheen_gone,
        "takes_cover": events.takes_cover,
        "bears_people": events.bears_people,
    }[surface.cover_from].expected_at
    first, last = grid.step(surface.placing_ends_at), grid.step(ready_at) + 1
    bare_c = hydration.surface_temperature_c[max(0, first) : max(0, last), column]
    return bool((np.nan_to_num(bare_c, nan=np.inf) < _FREEZES_C).any())
