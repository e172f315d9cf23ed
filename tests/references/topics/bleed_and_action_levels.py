"""From which evaporation something is done, and how much fresh concrete bleeds."""

from collections.abc import Callable

import numpy as np

from models.drying.bleed import bleed_rate_kg_m2_h, fog_needed
from models.records import Rules
from tests.references.case import Case

#: Rates to look for a step in. [kg/(m² h)]
_RATES = np.arange(0.001, 2.001, 0.001)
_PLENTY_KG_M2_H = 5.0


def _fogs_from(
    *, low_bleed: bool, plastic: bool, level: float, bleed: float = _PLENTY_KG_M2_H
) -> Callable[[], float]:
    """Least evaporation that asks for fog, with bleed water to spare or not."""
    needed = fog_needed(_RATES, bleed, level, low_bleed, plastic)
    return lambda: float(_RATES[np.argmax(needed)])


def _mean_bleed(*, low_bleed: bool) -> float:
    """Over the time from placing to setting. [kg/(m² h)]."""
    return float(np.mean(bleed_rate_kg_m2_h((np.arange(1000) + 0.5) / 1000, low_bleed)))


def _bled(set_h: float) -> Callable[[], float]:
    return lambda: set_h * _mean_bleed(low_bleed=False)


CASES = (
    Case(
        "action-low-bleed", "ACI 305R-10, 4.2.1", "from memory",
        "limit for mixes that bleed little", "kg/(m² h)", 0.5,
        _fogs_from(low_bleed=True, plastic=False, level=1.0), 0.002,
    ),
    Case(
        "action-without-bleed", "ACI 305R-10, 4.2.1", "from memory",
        "limit where no bleed water rises", "kg/(m² h)", 0.5,
        _fogs_from(low_bleed=False, plastic=True, level=1.0, bleed=0.0), 0.002,
    ),
    Case(
        "protects-csa", "CSA A23.1, hot weather", "from memory",
        "evaporation from which protection is required, the default of a site",
        "kg/(m² h)", 0.5,
        _fogs_from(
            low_bleed=False, plastic=True, level=Rules().fog_from_kg_m2_h
        ), 0.05,
    ),
    Case(
        "caution", "FHWA-HRT-05-038, chapter 5, on ACI 308", "read",
        "evaporation that wants caution, the default of a site", "kg/(m² h)", 0.5,
        _fogs_from(
            low_bleed=False, plastic=True, level=Rules().fog_from_kg_m2_h
        ), 0.05, quoted=True,
    ),
    # 0.5 to 1.5 while it bleeds.
    Case(
        "bleed-rate", "typical bleeding of slabs, textbooks", "from memory",
        "water that rises in ordinary concrete, just after placing",
        "kg/(m² h)", 1.0, lambda: 2 * _mean_bleed(low_bleed=False), 0.45,
    ),
    # "In extreme cases 2 % or more of the depth": 4 kg/m² on 200 mm is too much for a
    # default, a third of it too little.
    Case(
        "bleed-in-all", "Domone and Illston, early-age chapter (abstract)", "read",
        "water that rises in 200 mm until a set of 4.5 h, against the extreme",
        "kg/m²", 2.5, _bled(4.5), 1.25,
    ),
    Case(
        "bleed-ends", "FHWA-RD-02-099, chapter 3", "read",
        "share of setting at which bleeding has ended", "-", 1.0,
        lambda: float(
            (np.argmax(bleed_rate_kg_m2_h(_RATES, low_bleed=False) <= 0) + 1) * 0.001
        ), 0.01,
    ),
)  # fmt: skip
