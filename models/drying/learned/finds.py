"""What one find says of a cover: how likely it was, for each pair of figures.

Numbers only. The share of water left follows from what the clock says was lost since
the cover was last full. Widths are assumptions unless a source is named: no study of
what people call wet, damp or patchy was found.
"""

from dataclasses import dataclass
from math import erf, sqrt
from typing import Literal

import numpy as np

from models.drying.learned.belief import HELD, LOSS
from models.drying.ranges import Floats

Condition = Literal["wet", "damp", "patchy", "dry", "frozen", "unknown"]

#: Below this share of its water left a cover has dry patches: it dries from its edges
#: and its high spots. Assumption.
PATCHY_FROM = 0.1
#: Below this share it has no free film any more and people call it damp; they differ
#: much. Assumptions.
DAMP_FROM, DAMP_WIDTH = 0.35, 0.15
#: How sharply people judge, as a share of the water held. Assumption.
JUDGED_WIDTH = 0.05
#: How far the loss of one stretch is off, where that of many is right: the wind at this
#: surface, a lap that was open. Assumption. [share of the loss]
STRETCH_FRACTION = 0.15
#: One tick in thirty is on the wrong line. Assumption.
WRONG_FRACTION = 0.03
#: Water is poured until it stands at the edges: a tenth more than is missing, give or
#: take a third; one figure in seven is a planned dose or a guess. Assumptions.
POURED_OVER, POURED_SPREAD, GUESS_FRACTION, GUESS_SPREAD = 1.1, 0.3, 0.15, 1.0
#: What replaces less than this of the water held tells nothing of how much was missing.
LEAST_MISSING = 0.05
#: The normal distribution, to be looked up: numpy has none.
_SPREADS = np.linspace(-8, 8, 1601)
_CHANCES = np.array([(1 + erf(each / sqrt(2))) / 2 for each in _SPREADS])


@dataclass(frozen=True)
class Find:
    """A cover as somebody found it.

    Attributes
    ----------
    lost_l_m2 : float
        By the clock, net of rain, since the cover was last full. [L/m²]
    held_l_m2 : float
        Of the full cover, by the table or the site. [L/m²]
    refilled_l_m2 : float or None
        Poured to fill it again, None where nobody wrote. [L/m²]
    """

    surface_id: str
    condition: Condition
    lost_l_m2: float
    held_l_m2: float
    refilled_l_m2: float | None = None

    @property
    def says_condition(self) -> bool:
        """Whether it was seen; ice hides how much water was left."""
        return self.condition not in ("frozen", "unknown")

    @property
    def says_refill(self) -> bool:
        """Whether it was written how much was missing, and some of it was."""
        poured = self.refilled_l_m2 is not None and self.refilled_l_m2 > 0
        return poured and self.lost_l_m2 >= LEAST_MISSING * self.held_l_m2


def log_likelihood(find: Find) -> Floats:
    """How likely the find was for each loss (rows) and each held share (columns)."""
    found = np.zeros((LOSS.size, HELD.size))
    if find.says_condition:
        found += _of_condition(find)
    if find.says_refill:
        found += _of_refill(find)
    return found


def _of_condition(find: Find) -> Floats:
    lost = LOSS * max(find.lost_l_m2, 0.0) / (HELD * find.held_l_m2)
    left = 1 - lost
    width = np.sqrt(JUDGED_WIDTH**2 + (STRETCH_FRACTION * lost) ** 2)
    not_dry = _above(left / width)
    not_patchy = _above((left - PATCHY_FROM) / width)
    if find.condition == "dry":  # whoever comes late finds it no drier
        right = 1 - not_dry
    elif find.condition == "patchy":
        right = not_dry - not_patchy
    elif find.condition == "damp":
        right = not_patchy * (1 - _above((left - DAMP_FROM) / DAMP_WIDTH))
    else:  # wet says "not yet" and no more
        right = not_patchy
    return np.asarray(np.log((1 - WRONG_FRACTION) * right + WRONG_FRACTION / 4))


def _of_refill(find: Find) -> Floats:
    assert find.refilled_l_m2 is not None  # says_refill
    missing_l_m2 = np.minimum(LOSS * find.lost_l_m2, HELD * find.held_l_m2)
    off = np.log(find.refilled_l_m2 / (POURED_OVER * missing_l_m2))
    poured = (1 - GUESS_FRACTION) * _normal(off, POURED_SPREAD)
    return np.asarray(np.log(poured + GUESS_FRACTION * _normal(off, GUESS_SPREAD)))


def _normal(off: Floats, spread: float) -> Floats:
    return np.asarray(np.exp(-0.5 * (off / spread) ** 2) / spread)


def _above(spreads: Floats) -> Floats:
    """Chance of what lies so many normal spreads above a mark to be seen above it."""
    return np.asarray(np.interp(spreads, _SPREADS, _CHANCES))
