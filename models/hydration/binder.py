"""What a binder is made of: how it heats, how fast, and how warmth spurs it on.

Formulas only: shares in, figures of the hydration curve and activation energies out.
A site's own figures and tests stand before all of these.
"""

from typing import Literal, NamedTuple

import numpy as np

from models.drying.ranges import in_range

#: Of slag and of silica fume, complete. [J/kg] Slag 461 by Schindler and Folliard
#: (2005; read in a public notebook); slag cements end at 355 to 440 in all (read:
#: Betontechnische Daten, 9.5), so we take the most that keeps half slag within that.
#: Silica fume 300 (read in that notebook; 330 from memory).
SLAG_J_KG, SILICA_FUME_J_KG = 420_000.0, 300_000.0
#: Fly ash gives 1800 kJ/kg by its share of lime (Schindler and Folliard; read in the
#: same notebook); lime-poor ash has some 5 % of it (assumption).
FLY_ASH_J_KG = 1_800_000.0 * 0.05

#: Plain Portland cement: C1074 and Carino (1984) give 40 to 45 kJ/mol for strength
#: (from memory), calorimetry 39 (read: the formula of Riding et al., 2011).
PLAIN_ENERGY_J_MOL = 40_000.0
#: By strength slag brings it to about 60 kJ/mol at 70 % (read: Barnett et al., 2006,
#: abstract), by calorimetry to 42 at half slag (read: Riding et al., 2011).
_STRENGTH_ENERGY_OF_SLAG = 20_000.0 / 0.7
_HEAT_ENERGY_OF = {"slag": 5_400.0, "fly_ash": -11_200.0, "silica_fume": -51_600.0}


class Shares(NamedTuple):
    """Shares of the binder by mass; the rest is Portland cement [-]."""

    slag: float = 0.0
    fly_ash: float = 0.0
    silica_fume: float = 0.0

    @property
    def portland(self) -> float:
        """What is left for Portland cement [-]."""
        return 1 - sum(self)


class Cement(NamedTuple):
    """A Portland cement of a strength class, at a water-cement ratio of 0.5.

    ``fineness`` is how much further it hydrates than the equation for the ultimate
    degree says, which knows no fineness.
    """

    heat_j_kg: float
    tau_h: float
    beta: float
    fineness: float
    initial_set_h: float
    final_set_h: float


#: Heat chosen so that it lies inside the printed range of each class at 1, 3, 7 and 28
#: days (read: Betontechnische Daten, 9.5). A slow one of 32.5 N is a blend as a rule;
#: its figures are those of the whole. Set times of ordinary mixes at 20 °C: 4 to 5 and
#: 6 to 7 h (from memory), sooner for rapid and later for slow (assumption).
CEMENTS = {
    "R": Cement(500_000.0, 8.0, 0.80, 1.09, 4.0, 5.5),
    "N": Cement(460_000.0, 15.0, 0.80, 1.00, 4.5, 6.5),
    "S": Cement(405_000.0, 27.0, 0.75, 1.00, 6.0, 8.5),
}


class BinderHeat(NamedTuple):
    """Hydration curve of a binder [J/kg, h, -, -, J/mol]."""

    heat_j_kg: float
    tau_h: float
    beta: float
    ultimate_fraction: float
    energy_j_mol: float


def binder_heat(cement: Cement, shares: Shares, water_binder: float) -> BinderHeat:
    r"""Hydration curve of a binder from its cement, its shares and its water.

    Parameters
    ----------
    cement : Cement
        The Portland cement in it.
    shares : Shares
        What else is in it, 0.95 at most. [-]
    water_binder : float
        Water over binder, from 0.2 to 1. [-]

    Returns
    -------
    BinderHeat

    Raises
    ------
    OutOfRangeError
        If the shares add up to more than 0.95 or the water lies outside its range.

    Notes
    -----
    Schindler and Folliard, ACI Materials Journal 102-M04, 2005 (from memory), and
    Riding et al., ACI Materials Journal 108 and 109, 2011 and 2012 (read in a public
    notebook), as what they make of shares against none:

    .. math::

        \alpha_u = \frac{1.031\,w/b}{0.194 + w/b} (1 - 0.23\,p_{slag}^2)
                   + 0.25\,p_{FA}, \qquad
        \tau \propto e^{1.3\,p_{slag} + 0.5\,p_{FA}}

    Theirs let slag raise the ultimate degree by 0.30 of its share, and then have to
    make it slow (2.187) and flat (-0.647) to give the heat of the first week. Adiabatic
    tests of blends end lower: by 11 % with 50 % slag or 20 % fly ash, by 22 % with 70
    or 35 % (read: Parham, University of Florida, 2004, Table 5-5). We end there, and
    the time is chosen so that half slag gives as much as theirs in the first week, 93,
    188 and 254 kJ/kg at 1, 3 and 7 days. Of fly ash we take half of their rise in
    degree, for the same tests.
    """
    source = "the heat of blended binders"
    in_range("what is no Portland cement", round(sum(shares), 9), 0, 0.95, "", source)
    in_range("water_binder", water_binder, 0.2, 1, "", source)
    heat_j_kg = (
        cement.heat_j_kg * shares.portland
        + SLAG_J_KG * shares.slag
        + FLY_ASH_J_KG * shares.fly_ash
        + SILICA_FUME_J_KG * shares.silica_fume
    )
    degree = 1.031 * water_binder / (0.194 + water_binder) * cement.fineness
    degree *= 1 - 0.23 * shares.slag**2
    return BinderHeat(
        heat_j_kg=heat_j_kg,
        tau_h=cement.tau_h * float(np.exp(1.3 * shares.slag + 0.5 * shares.fly_ash)),
        beta=cement.beta,
        ultimate_fraction=min(1.0, degree + 0.25 * shares.fly_ash),
        energy_j_mol=PLAIN_ENERGY_J_MOL
        + sum(
            _HEAT_ENERGY_OF[name] * share for name, share in shares._asdict().items()
        ),
    )


def strength_energy_j_mol(shares: Shares) -> float:
    """Activation energy of setting and of strength; see the figures above. [J/mol].

    Fly ash lowers it a little (20 % to 35 to 40 kJ/mol, from memory): left out, since
    it would only promise more in the cold.
    """
    return PLAIN_ENERGY_J_MOL + _STRENGTH_ENERGY_OF_SLAG * shares.slag


def set_delay_h(shares: Shares) -> float:
    """Hours that both sets come later at 20 °C than without the shares.

    Slag of 40 to 50 % 0.5 to 1.5 h, fly ash of 20 to 30 % 0.5 to 2 h (from memory):
    the middle of both.
    """
    return 2.2 * shares.slag + 5.0 * shares.fly_ash


def cement_of(cement_class: Literal["R", "N", "S"], shares: Shares) -> Cement:
    """Give the Portland cement of a class; slow ones are blends that count whole.

    Where the shares of a slow cement are named, what is left counts as normal.
    """
    named = sum(shares) > 0 and cement_class == "S"
    return CEMENTS["N" if named else cement_class]
