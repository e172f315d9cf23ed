"""Crews that find covers whose true figures are known, with errors of their own.

What a crew sees is made here from litres left, not with the chances that the learning
counts on: judgement, wind and pouring err by their own draws.
"""

from collections.abc import Sequence

import numpy as np

from models.drying.learned.finds import Condition, Find

HELD_L_M2 = 0.8


def finds(
    count: int,
    seed: int,
    *,
    loss: float,
    held: float = 1.0,
    surfaces: Sequence[str] = ("P1-top",),
    refills: bool = True,
) -> list[Find]:
    """Let crews come by to a cover that loses and holds so much more than it should.

    They come when the clock says that a share of 15 to 95 % is gone.
    """
    chance = np.random.default_rng(seed)
    found = []
    for number in range(count):
        lost_l_m2 = HELD_L_M2 * chance.uniform(0.15, 0.95)
        true_l_m2 = lost_l_m2 * loss * np.exp(chance.normal(0, 0.1))
        full_l_m2 = held * HELD_L_M2
        left = max(0.0, 1 - true_l_m2 / full_l_m2)
        missing_l_m2 = full_l_m2 * (1 - left)
        poured_l_m2 = missing_l_m2 * 1.1 * np.exp(chance.normal(0, 0.25))
        found.append(
            Find(
                surface_id=surfaces[number % len(surfaces)],
                condition=_seen(left + chance.normal(0, 0.04) * (left > 0)),
                lost_l_m2=lost_l_m2,
                held_l_m2=HELD_L_M2,
                refilled_l_m2=poured_l_m2 if refills else None,
            )
        )
    return found


def _seen(left: float) -> Condition:
    if left <= 0:
        return "dry"
    if left < 0.1:
        return "patchy"
    return "damp" if left < 0.4 else "wet"
