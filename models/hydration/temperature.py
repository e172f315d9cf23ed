"""Temperature through sections: the heat equation, implicit, many sections at once.

Formulas only: arrays are ``(cells, surfaces)``, the face that is looked after first.
What the section meets there (sun, sky, wind, covers) is ``face.py``'s affair, where
its heat comes from ``heat.py``'s.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from models.drying.ranges import Flags, Floats


@dataclass(frozen=True)
class Section:
    """Sections in cells from the face inwards; concrete first, then perhaps ground.

    Attributes
    ----------
    size_m : array (cells, surfaces)
        Thickness of each cell. [m]
    conductivity_w_mk, capacity_j_m3k : array (cells, surfaces)
        Thermal conductivity [W/(m K)] and heat capacity by volume [J/(m³ K)].
    concrete : array of bool (cells, surfaces)
        Which cells are concrete.
    middle_cell : array of int (surfaces,)
        The cell half way through the member, where a thermocouple for the core is put.
    far_w_m2k : array (surfaces,)
        Conductance from the far side to what lies there; 0 for a far side that lets
        no heat pass, such as a plane of symmetry. [W/(m² K)]
    """

    size_m: Floats
    conductivity_w_mk: Floats
    capacity_j_m3k: Floats
    concrete: Flags
    middle_cell: NDArray[np.int64]
    far_w_m2k: Floats

    @property
    def centre_m(self) -> Floats:
        """Depth of each cell's centre below the face [m]."""
        depth_m: Floats = np.cumsum(self.size_m, axis=0) - self.size_m / 2
        return depth_m


class HeatSolver:
    r"""March the temperatures of sections through time.

    Notes
    -----
    Finite volumes, backward Euler: what leaves a cell enters the next, so that the
    heat stored changes by exactly what passes the two faces and what is released.

    .. math:: C_i \frac{T_i' - T_i}{\Delta t} = G_i (T_{i-1}' - T_i')
              + G_{i+1} (T_{i+1}' - T_i') + q_i

    The equations are eliminated from the far side towards the face and solved on the
    way back. New weather or a new cover changes the conductance at the face alone,
    which is the last pivot: all else is computed once for the whole run.

    With pivots :math:`p_i` the way in is :math:`y_i = r_i/p_i + m_i\,y_{i+1}` and the
    way back :math:`T_i = y_i + e_i\,T_{i-1}`. Divided by the running products *P* of
    the *m* and *Q* of the *e*, both are plain running sums, so the state is kept as
    :math:`T/Q`. All terms of a sum weigh alike or less: nothing cancels.
    """

    def __init__(self, section: Section, step_s: float, temperature_c: Floats) -> None:
        cells, surfaces = section.size_m.shape
        self.section = section
        self.step_s = step_s
        half_m2k_w = section.size_m / (2 * section.conductivity_w_mk)
        storage_j_m2k = section.capacity_j_m3k * section.size_m
        between = np.zeros((cells + 1, surfaces))
        between[1:-1] = 1 / (half_m2k_w[:-1] + half_m2k_w[1:])
        between[-1] = section.far_w_m2k / (1 + section.far_w_m2k * half_m2k_w[-1])

        pivot = storage_j_m2k / step_s + between[:-1] + between[1:]
        for i in range(cells - 2, -1, -1):
            pivot[i] -= between[i + 1] ** 2 / pivot[i + 1]
        self._first_pivot = pivot[0].copy()
        pivot[0] = 1  # the face changes it: it is divided by in each step
        inwards, back = np.ones_like(pivot), np.ones_like(pivot)
        for i in range(cells - 2, -1, -1):
            inwards[i] = inwards[i + 1] * between[i + 1] / pivot[i]
        for i in range(1, cells):
            back[i] = back[i - 1] * between[i] / pivot[i]
        scale = pivot * inwards
        self._keep = storage_j_m2k / step_s / scale * back
        self._take = np.where(section.concrete, section.size_m / scale, 0.0)
        self._turn = inwards[1:] / back[1:]
        self._first_scale = inwards[0]
        self._back = back

        self._half_m2k_w = half_m2k_w[0]
        self._far_w_m2k = between[-1]
        self._far_scale = pivot[-1]
        concrete_j_m2k = np.where(section.concrete, storage_j_m2k, 0.0)
        self._share = concrete_j_m2k / concrete_j_m2k.sum(axis=0) * back
        self._middle = section.middle_cell * surfaces + np.arange(surfaces)
        self._middle_back = back.take(self._middle)
        self._of_concrete_c = np.empty((cells, surfaces))
        self._ground_colder_k = np.where(section.concrete, 0.0, -np.inf)

        self._state = np.ascontiguousarray(temperature_c / back)
        rows = list(self._state)
        self._inwards = [(rows[i], rows[i + 1]) for i in range(cells - 2, -1, -1)]
        self._outwards = [(rows[i], rows[i - 1]) for i in range(1, cells)]
        self._source = np.zeros((cells, surfaces))
        nothing = np.zeros(surfaces)
        self.set_far(nothing)
        self.set_face(nothing, np.ones(surfaces), nothing)

    @property
    def temperature_c(self) -> Floats:
        """Temperatures of all cells, a copy [°C]."""
        return np.asarray(self._state * self._back)

    def lay(self, temperature_c: Floats, surfaces: NDArray[np.int64]) -> None:
        """Begin some sections anew, with their columns of ``temperature_c`` [°C]."""
        self._state[:, surfaces] = temperature_c[:, surfaces] / self._back[:, surfaces]

    def set_face(
        self, resistance_m2k_w: Floats, film_w_m2k: Floats, outside_c: Floats
    ) -> None:
        """Say what the section meets at its face, until said otherwise.

        Parameters
        ----------
        resistance_m2k_w : array (surfaces,)
            Of layers on the concrete. [m² K/W]
        film_w_m2k : array (surfaces,)
            Conductance from the outer face to the outside; above 0. [W/(m² K)]
        outside_c : array (surfaces,)
            Temperature out there, sun and sky counted in. [°C]
        """
        half = self._half_m2k_w
        self._face_w_m2k = 1 / (half + resistance_m2k_w + 1 / film_w_m2k)
        self._outside_c = outside_c
        self._from_outside = self._face_w_m2k * outside_c / self._first_scale
        self._divide_first = self._first_scale / (self._first_pivot + self._face_w_m2k)
        self._layer_m2k_w = resistance_m2k_w
        towards_outside = self._face_w_m2k * half
        self._cell_weight = 1 - towards_outside
        self._outside_part_c = towards_outside * outside_c

    def set_far(self, far_c: Floats) -> None:
        """Say how warm it is on the far side from now on [°C]."""
        self._from_far = self._far_w_m2k * far_c / self._far_scale

    def set_source(self, source_w_m3: Floats) -> None:
        """Say what heat the concrete releases from now on [W/m³]."""
        np.multiply(source_w_m3, self._take, out=self._source)

    def step(self) -> None:
        """March all sections through one step of time."""
        state = self._state
        first, others, last = state[0], state[1:], state[-1]
        np.multiply(state, self._keep, out=state)
        np.add(state, self._source, out=state)
        np.add(last, self._from_far, out=last)
        for row, inner in self._inwards:
            np.add(row, inner, out=row)
        np.add(first, self._from_outside, out=first)
        np.multiply(first, self._divide_first, out=first)
        np.multiply(others, self._turn, out=others)
        for row, outer in self._outwards:
            np.add(row, outer, out=row)

    def surface_c(self, out: Floats | None = None) -> Floats:
        """Temperature of the concrete's surface, under any layers [°C]."""
        found: Floats = np.multiply(self._state[0], self._cell_weight, out=out)
        found += self._outside_part_c
        return found

    def face_c(self) -> Floats:
        """Temperature of the outer face of what lies on the concrete [°C]."""
        return self.surface_c() + self.face_flow_w_m2() * self._layer_m2k_w

    def core_c(self, out: Floats | None = None) -> Floats:
        """Temperature of the core, wherever the concrete is warmest now [°C]."""
        of_concrete_c = np.multiply(self._state, self._back, out=self._of_concrete_c)
        of_concrete_c += self._ground_colder_k
        found: Floats = of_concrete_c.max(axis=0, out=out)
        return found

    def middle_c(self, out: Floats | None = None) -> Floats:
        """Temperature half way through the member [°C]."""
        found: Floats = self._state.take(self._middle, out=out)
        found *= self._middle_back
        return found

    def mean_c(self, out: Floats | None = None) -> Floats:
        """Mean temperature of the concrete, by heat content [°C]."""
        found: Floats = np.einsum("ij,ij->j", self._share, self._state, out=out)
        return found

    def face_flow_w_m2(self) -> Floats:
        """Heat that enters through the face [W/m²]."""
        return np.asarray(self._face_w_m2k * (self._outside_c - self._state[0]))

    def pass_through(
        self, surface: int, surface_c: float | None, core_c: float | None
    ) -> None:
        """Shift a section's concrete so that it agrees with what was measured.

        Parameters
        ----------
        surface : int
            Which section.
        surface_c, core_c : float or None
            Measured temperatures, of the core half way through the member. With both,
            the shift goes straight from one to the other and stays the core's beyond
            it; with one, all concrete shifts alike.
        """
        concrete = self.section.concrete[:, surface]
        depth_m = self.section.centre_m[concrete, surface]
        core_m = self.section.centre_m[self.section.middle_cell[surface], surface]
        shifts_k: list[float] = []
        if surface_c is not None:
            # The surface moves less than the first cell: the outside holds it.
            miss_k = surface_c - float(self.surface_c()[surface])
            shifts_k.append(miss_k / float(self._cell_weight[surface]))
        if core_c is not None:
            shifts_k.append(core_c - float(self.middle_c()[surface]))
        reach = np.clip((depth_m - depth_m[0]) / (core_m - depth_m[0]), 0, 1)
        first_k, last_k = shifts_k[0], shifts_k[-1]
        shift_k = first_k + (last_k - first_k) * reach
        self._state[concrete, surface] += shift_k / self._back[concrete, surface]
