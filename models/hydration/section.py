"""Sections of a building cut into cells: on ground, with air behind, to the middle.

Formulas only: thicknesses in, a :class:`Section` out. Cells are fine at the face and
grow inwards, the more the thicker the member, so that a raft's face is cut as finely as
a slab's. Every section has as many cells as any other: all of them march together.
"""

from functools import cache
from typing import Literal

import numpy as np

from models.drying.ranges import Floats
from models.hydration.temperature import Section

Shape = Literal["on_ground", "on_forms", "insulated", "to_middle"]

#: Ordinary concrete, young and moist (from memory: 1.2 to 2.6 W/(m K), 880 to
#: 1050 J/(kg K), 2300 to 2450 kg/m³).
CONCRETE_CONDUCTIVITY_W_MK = 2.0
CONCRETE_CAPACITY_J_M3K = 2.4e6
#: Moist compacted ground (assumption).
GROUND_CONDUCTIVITY_W_MK = 1.5
GROUND_CAPACITY_J_M3K = 2.0e6
#: A fortnight's warmth reaches some 1.5 m into ground: there it has its temperature.
#: 6 m change the core of 0.3 to 3.5 m of concrete by 0.4 K at most, root mean square.
GROUND_DEPTH_M = 1.5
#: 18 mm plywood at 0.13 W/(m K) (from memory).
FORM_RESISTANCE_M2K_W = 0.018 / 0.13
#: Under a slab and behind forms the air hardly moves: natural convection and
#: radiation together (assumption, as building physics takes for inner faces).
STILL_AIR_W_M2K = 8.0

CELLS = 20
#: The first cell is no thicker than this, wherever so few cells allow it (assumption:
#: it follows the air within minutes).
_FIRST_M = 0.007
_LEAST_GROWTH, _MOST_GROWTH = 1.1, 1.6
#: On ground the concrete takes this many cells, of which the last few shrink again
#: towards the ground, and the ground the others. So cut, a week of 0.2 to 3.5 m keeps
#: within 0.2 K of eight times as many at the face and 0.4 K in the core, root mean
#: square; no later than half an hour after a change the face is 0.45 K off at most.
_ON_GROUND_CELLS, _SHRINKING_CELLS = 14, 4
_SHRINKAGE, _GROUND_GROWTH = 1.5, 1.8
#: No resistance to the temperature that ground has at depth.
_TOUCHING_W_M2K = 1e6


@cache
def _growing(cells: int, growth: float, shrinking: int = 0) -> Floats:
    """Shares of the depth: growing inwards, then perhaps shrinking again."""
    up = growth ** np.arange(cells - shrinking, dtype=np.float64)
    down = up[-1] / _SHRINKAGE ** np.arange(1, shrinking + 1)
    sizes = np.concatenate([up, down])
    return np.asarray(sizes / sizes.sum())


@cache
def _cut(depth_m: float, cells: int, shrinking: int = 0) -> Floats:
    """Cells of concrete of the least growth that begins finely enough [m]."""
    growths = np.linspace(_LEAST_GROWTH, _MOST_GROWTH, 41)
    cuts = [depth_m * _growing(cells, float(g), shrinking) for g in growths]
    return next((sizes for sizes in cuts if sizes[0] <= _FIRST_M), cuts[-1])


def _one(shape: Shape, thickness_m: float) -> tuple[Floats, int, int, float]:
    """Cell sizes, cells of concrete, middle cell and far conductance of a section."""
    if shape == "on_ground":
        concrete, far_w_m2k = _ON_GROUND_CELLS, _TOUCHING_W_M2K
        concrete_m = _cut(thickness_m, concrete, _SHRINKING_CELLS)
        ground_m = GROUND_DEPTH_M * _growing(CELLS - concrete, _GROUND_GROWTH)
        sizes = np.concatenate([concrete_m, ground_m])
    else:
        depth_m = thickness_m / 2 if shape == "to_middle" else thickness_m
        sizes, concrete = _cut(depth_m, CELLS), CELLS
        behind_form = 1 / (FORM_RESISTANCE_M2K_W + 1 / STILL_AIR_W_M2K)
        far_w_m2k = behind_form if shape == "on_forms" else 0.0
    if shape == "to_middle":
        return sizes, concrete, concrete - 1, far_w_m2k
    inner_edges_m = np.cumsum(sizes)
    middle = int(np.searchsorted(inner_edges_m, thickness_m / 2))
    return sizes, concrete, middle, far_w_m2k


def sections(shapes: list[Shape], thickness_m: Floats) -> Section:
    """Cut sections into cells.

    Parameters
    ----------
    shapes : list of str
        ``on_ground``: concrete on ground that is followed to its temperature at depth.
        ``on_forms``: air behind a form on the far side. ``insulated``: no heat passes
        the far side. ``to_middle``: half of a member whose two faces are alike.
    thickness_m : array (surfaces,)
        Of the whole member. [m]
    """
    parts = [
        _one(shape, float(t)) for shape, t in zip(shapes, thickness_m, strict=True)
    ]
    concrete = np.arange(CELLS)[:, None] < np.array([part[1] for part in parts])
    return Section(
        size_m=np.array([part[0] for part in parts]).T.copy(),
        conductivity_w_mk=np.where(
            concrete, CONCRETE_CONDUCTIVITY_W_MK, GROUND_CONDUCTIVITY_W_MK
        ),
        capacity_j_m3k=np.where(
            concrete, CONCRETE_CAPACITY_J_M3K, GROUND_CAPACITY_J_M3K
        ),
        concrete=concrete,
        middle_cell=np.array([part[2] for part in parts]),
        far_w_m2k=np.array([part[3] for part in parts]),
    )
