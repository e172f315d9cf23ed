"""Sections of a building cut into cells: slabs on ground, on forms, between faces.

Formulas only: thicknesses in, a :class:`Section` out. Cells are fine at the face and
grow inwards, in the same proportions for every thickness.
"""

import numpy as np

from models.drying.ranges import Floats
from models.hydration.temperature import Section

#: Ordinary concrete, young and moist (from memory: 1.2 to 2.6 W/(m K), 880 to
#: 1050 J/(kg K), 2300 to 2450 kg/m³).
CONCRETE_CONDUCTIVITY_W_MK = 2.0
CONCRETE_CAPACITY_J_M3K = 2.4e6
#: Moist compacted ground (assumption).
GROUND_CONDUCTIVITY_W_MK = 1.5
GROUND_CAPACITY_J_M3K = 2.0e6
#: A fortnight's warmth reaches some 1.5 m into ground: there it has its temperature.
GROUND_DEPTH_M = 1.5
#: 18 mm plywood at 0.13 W/(m K) (from memory).
FORM_RESISTANCE_M2K_W = 0.018 / 0.13
#: Under a slab and behind forms the air hardly moves: natural convection and
#: radiation together (assumption, as building physics takes for inner faces).
STILL_AIR_W_M2K = 8.0

_CONCRETE_CELLS, _CONCRETE_GROWTH = 10, 1.25
_GROUND_CELLS, _GROUND_GROWTH = 7, 1.4
#: Of the growing cells, the one that holds the middle of the thickness.
_MIDDLE_CELL = 7


def _growing(cells: int, growth: float) -> Floats:
    sizes: Floats = growth ** np.arange(cells, dtype=np.float64)
    return np.asarray(sizes / sizes.sum())


def on_ground(thickness_m: Floats) -> Section:
    """Concrete on ground, whose temperature is known at depth.

    Parameters
    ----------
    thickness_m : array (surfaces,)
        Of the concrete. [m]
    """
    concrete = _growing(_CONCRETE_CELLS, _CONCRETE_GROWTH)[:, None] * thickness_m
    ground = _growing(_GROUND_CELLS, _GROUND_GROWTH)[:, None] * np.full(
        thickness_m.shape, GROUND_DEPTH_M
    )

    def layered(of_concrete: float, of_ground: float) -> Floats:
        return np.concatenate(
            [np.full(concrete.shape, of_concrete), np.full(ground.shape, of_ground)]
        )

    return Section(
        size_m=np.concatenate([concrete, ground]),
        conductivity_w_mk=layered(CONCRETE_CONDUCTIVITY_W_MK, GROUND_CONDUCTIVITY_W_MK),
        capacity_j_m3k=layered(CONCRETE_CAPACITY_J_M3K, GROUND_CAPACITY_J_M3K),
        concrete_cells=_CONCRETE_CELLS,
        core_cell=_MIDDLE_CELL,
        below_w_m2k=np.full(thickness_m.shape, 1e6),  # the ground's own temperature
    )


def off_ground(depth_m: Floats, below_w_m2k: Floats, *, to_middle: bool) -> Section:
    """Concrete with air, or no flow of heat, on its far side.

    Parameters
    ----------
    depth_m : array (surfaces,)
        From the face to the far side, or to the plane of symmetry. [m]
    below_w_m2k : array (surfaces,)
        Conductance to the air on the far side; 0 for none. [W/(m² K)]
    to_middle : bool
        The far side is the middle of the member, so the innermost cell is its core.
    """
    size_m = _growing(_CONCRETE_CELLS, _CONCRETE_GROWTH)[:, None] * depth_m
    return Section(
        size_m=size_m,
        conductivity_w_mk=np.full(size_m.shape, CONCRETE_CONDUCTIVITY_W_MK),
        capacity_j_m3k=np.full(size_m.shape, CONCRETE_CAPACITY_J_M3K),
        concrete_cells=_CONCRETE_CELLS,
        core_cell=_CONCRETE_CELLS - 1 if to_middle else _MIDDLE_CELL,
        below_w_m2k=below_w_m2k,
    )


def form_conductance_w_m2k() -> float:
    """From concrete through its form to still air. [W/(m² K)]."""
    return 1 / (FORM_RESISTANCE_M2K_W + 1 / STILL_AIR_W_M2K)
