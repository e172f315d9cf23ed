"""Heat that hydration releases: a curve over the age of the cement paste.

Formulas only. The age here is an equivalent age at 21.1 °C, the reference of the
curve's authors; it has nothing to do with the age by which a profile counts.
"""

from dataclasses import dataclass
from typing import Protocol

import numpy as np

from models.drying.ranges import Floats
from models.hydration.equivalent_age import ARRHENIUS_VALID_C, arrhenius_unchecked

#: Reference temperature of Schindler and Folliard (from memory: 70 °F).
CURVE_REFERENCE_C = 21.1
#: Parts of the time between two rows of a test: within each one rate holds.
_PARTS = 32


class HeatCurve(Protocol):
    """Any curve of heat over age."""

    def released_j_m3(self, age_h: Floats) -> Floats:
        """Heat released up to an age, for ages ``(cells, surfaces)`` [J/m³]."""


@dataclass(frozen=True)
class DegreeOfHydration:
    r"""Three-parameter curve of the degree of hydration.

    Attributes
    ----------
    total_j_m3 : array (surfaces,)
        Heat of complete hydration: heat by mass times cement content. [J/m³]
    tau_h, beta : array (surfaces,)
        Time and slope parameter. [h, -]
    ultimate_fraction : array (surfaces,)
        Degree of hydration it tends to. [-]

    Notes
    -----
    A. K. Schindler and K. J. Folliard, "Heat of hydration models for cementitious
    materials", ACI Materials Journal 102-M04, 2005 (from memory):
    :math:`\alpha(t_e) = \alpha_u \exp[-(\tau/t_e)^\beta]`.
    """

    total_j_m3: Floats
    tau_h: Floats
    beta: Floats
    ultimate_fraction: Floats

    def released_j_m3(self, age_h: Floats) -> Floats:
        """Heat released up to an age [J/m³]."""
        # An age of 0 becomes a very small one: the exponential is then exactly 0.
        exponent = self.tau_h / np.maximum(age_h, 1e-6)
        np.power(exponent, self.beta, out=exponent)
        np.negative(exponent, out=exponent)
        np.exp(exponent, out=exponent)
        exponent *= self.total_j_m3 * self.ultimate_fraction
        return exponent


@dataclass(frozen=True)
class AdiabaticTable:
    """Adiabatic temperature rise as measured, one table for all it is asked for.

    Attributes
    ----------
    age_h, rise_k : array (rows,)
        Rising ages at 21.1 °C and the temperature risen until then. [h, K]
    capacity_j_m3k : float
        Heat capacity of the concrete that was tested. [J/(m³ K)]
    """

    age_h: Floats
    rise_k: Floats
    capacity_j_m3k: float

    def released_j_m3(self, age_h: Floats) -> Floats:
        """Heat released up to an age; that of the last row after it [J/m³]."""
        return np.interp(age_h, self.age_h, self.rise_k * self.capacity_j_m3k)

    @classmethod
    def of_test(
        cls,
        time_h: Floats,
        rise_k: Floats,
        start_c: float,
        activation_energy_j_mol: float,
        capacity_j_m3k: float,
    ) -> "AdiabaticTable":
        """Take a test by the clock: the warmer it was, the faster its paste aged.

        Parameters
        ----------
        time_h, rise_k : array (rows,)
            Time in the test and temperature risen, straight between; from 0. [h, K]
        start_c : float
            Temperature at which the test began. [°C]
        activation_energy_j_mol : float
            Apparent activation energy. [J/mol]
        capacity_j_m3k : float
            Heat capacity of the concrete. [J/(m³ K)]
        """
        rows = np.arange(time_h.size)
        parts = np.linspace(0, rows[-1], rows[-1] * _PARTS + 1)
        fine_h, fine_k = np.interp(parts, rows, time_h), np.interp(parts, rows, rise_k)
        middle_c = start_c + (fine_k[1:] + fine_k[:-1]) / 2
        rate = heat_rate(middle_c, np.asarray(activation_energy_j_mol))
        age_h = np.concatenate([[0.0], np.cumsum(rate * np.diff(fine_h))])
        return cls(age_h, fine_k, capacity_j_m3k)


@dataclass(frozen=True)
class MeasuredHeat:
    """A curve for all surfaces, and tables that stand in for it on some.

    Attributes
    ----------
    tables : tuple
        Columns of surfaces and the table that holds for them.
    """

    curve: HeatCurve
    tables: tuple[tuple[list[int], AdiabaticTable], ...]

    def released_j_m3(self, age_h: Floats) -> Floats:
        """Heat released up to an age [J/m³]."""
        released = self.curve.released_j_m3(age_h)
        for columns, table in self.tables:
            released[:, columns] = table.released_j_m3(age_h[:, columns])
        return released


def heat_rate(temperature_c: Floats, activation_energy_j_mol: Floats) -> Floats:
    """Hours of the curve that one hour at a temperature stands for.

    Parameters
    ----------
    temperature_c : array
        Concrete temperature; taken as -10 or 80 beyond those, where nothing is known
        and little is released. [°C]
    activation_energy_j_mol : array
        Apparent activation energy. [J/mol]
    """
    return arrhenius_unchecked(
        np.clip(temperature_c, *ARRHENIUS_VALID_C),
        activation_energy_j_mol,
        CURVE_REFERENCE_C,
    )
