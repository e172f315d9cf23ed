"""How long a soaked cover lasts, and when it must have been soaked to last so long.

The water left falls by the loss of each step; rain (negative loss) fills it, never
above what the cover holds. Times are hours from the beginning of the first step.
"""

import numpy as np

from models.drying.ranges import Floats, Numbers, in_range


def dries_at_h(
    wetted_at_h: Numbers, loss_l_m2_h: Floats, step_h: float, held_l_m2: float
) -> Floats:
    """When a cover filled at a given time has no water left.

    Parameters
    ----------
    wetted_at_h : float or array
        Times of filling, within the steps. [h]
    loss_l_m2_h : array
        Net loss in each step; negative for rain. [L/(m² h)]
    step_h : float
        Length of a step. [h]
    held_l_m2 : float
        Water in the full cover. [L/m²]

    Returns
    -------
    array
        Time of drying out; infinite if it lasts beyond the last step. [h]

    Raises
    ------
    OutOfRangeError
        If a time of filling lies outside the steps.
    """
    end_h = len(loss_l_m2_h) * step_h
    wetted = in_range("wetted_at_h", wetted_at_h, 0, end_h, "h", "the list of losses")
    left_l_m2 = np.full(wetted.shape, float(held_l_m2))
    dry_h = np.full(wetted.shape, np.inf)
    for index, loss in enumerate(loss_l_m2_h):
        from_h = np.maximum(wetted, index * step_h)
        span_h = np.maximum((index + 1) * step_h - from_h, 0)
        dries = (dry_h == np.inf) & (span_h > 0) & (loss * span_h >= left_l_m2)
        if dries.any():
            lasts_h = left_l_m2 / loss if loss > 0 else np.zeros_like(left_l_m2)
            dry_h = np.where(dries, from_h + lasts_h, dry_h)
        left_l_m2 = np.minimum(left_l_m2 - loss * span_h, held_l_m2)
    return dry_h


def wetted_by_h(
    dry_at_h: Numbers, loss_l_m2_h: Floats, step_h: float, held_l_m2: float
) -> Floats:
    """Earliest filling that keeps a cover wet until a given time.

    Parameters
    ----------
    dry_at_h : float or array
        Times until which it is to stay wet, within the steps. [h]
    loss_l_m2_h : array
        Net loss in each step; negative for rain. [L/(m² h)]
    step_h : float
        Length of a step. [h]
    held_l_m2 : float
        Water in the full cover. [L/m²]

    Returns
    -------
    array
        Time of that filling; minus infinity if one before the first step does. [h]

    Raises
    ------
    OutOfRangeError
        If a time lies outside the steps.

    Notes
    -----
    Backwards in time the water still needed rises by the loss, never below nothing, up
    to what is held; so what was used is to this what is left is to :func:`dries_at_h`,
    and the one is the other with time reversed.
    """
    end_h = len(loss_l_m2_h) * step_h
    dry = in_range("dry_at_h", dry_at_h, 0, end_h, "h", "the list of losses")
    return np.asarray(
        end_h - dries_at_h(end_h - dry, loss_l_m2_h[::-1], step_h, held_l_m2)
    )
