"""What the two clocks say of one surface, in the minutes of the horizon.

Arrays come in steps of the planning grid; the horizon may begin at any minute of a
step, so curves are handed on in the coarsest steps that meet both exactly.
"""

from dataclasses import dataclass
from math import ceil, gcd

import numpy as np

from models.records import (
    DryingCurve,
    Flags,
    Floats,
    Grid,
    Horizon,
    Stretch,
    Surface,
    WeightStep,
)
from models.records.site import Costs

_DAY_MIN = 24 * 60
#: Area whose dry minute costs ``Costs.dry_cost_per_min``.
_WEIGHED_AS_ONE_M2 = 100.0


@dataclass(frozen=True)
class Times:
    """Turns steps of the clocks' grid into minutes of the horizon."""

    grid: Grid
    horizon: Horizon

    @property
    def offset_min(self) -> int:
        """Minutes from the start of the grid to minute 0 of the horizon."""
        return -self.horizon.minute(self.grid.starts_at)

    @property
    def end_min(self) -> int:
        """Minute of the horizon at which the grid ends."""
        return self.grid.steps * self.grid.step_min - self.offset_min

    def stretches(self, flags: Flags) -> list[Stretch]:
        """Give each run of set flags ``(steps,)`` in minutes of the horizon."""
        edges = np.flatnonzero(np.diff(np.concatenate(([0], flags.view(np.int8), [0]))))
        minutes = (edges * self.grid.step_min - self.offset_min).tolist()
        return [
            Stretch(from_min=a, until_min=b)
            for a, b in zip(minutes[::2], minutes[1::2], strict=True)
        ]


def in_first_cover_l_m2_h(
    loss_l_m2_h: Floats, held_steps_l_m2: Floats, held_l_m2: float
) -> Floats:
    r"""Loss of the covers that follow one another, in litres of the first.

    Parameters
    ----------
    loss_l_m2_h : array (steps,)
        True loss of the cover of each step. [L/(m² h)]
    held_steps_l_m2 : array (steps,)
        What that cover holds; 0 for one that holds nothing. [L/m²]
    held_l_m2 : float
        What the first cover that holds water holds. [L/m²]

    Returns
    -------
    array
        Rounded to a millionth. [L/(m² h)]

    Notes
    -----
    The reserve is a share of what the cover in place holds, so its loss is
    :math:`w \, h_1 / h`. A cover that holds no water loses no share of it.
    """
    ratio = np.divide(
        held_l_m2,
        held_steps_l_m2,
        out=np.zeros_like(held_steps_l_m2),
        where=held_steps_l_m2 > 0,
    )
    # Adding 0 turns -0.0 into 0.0, which would print differently.
    return np.asarray(np.round(loss_l_m2_h * ratio, 6) + 0.0)


def drying_curve(
    loss_l_m2_h: Floats, held_l_m2: float, times: Times
) -> DryingCurve | None:
    """Give the loss of a cover from minute 0 of the horizon on.

    Parameters
    ----------
    loss_l_m2_h : array (steps,)
        Of the grid's steps. [L/(m² h)]
    held_l_m2 : float
        What the cover holds. [L/m²]
    times : Times
        Of that grid.

    Returns
    -------
    DryingCurve or None
        In the coarsest steps that meet both the grid and minute 0; None where the cover
        holds nothing to lose.
    """
    if held_l_m2 <= 0:
        return None
    step_min = gcd(times.grid.step_min, times.offset_min)
    steps = ceil(times.horizon.length_min / step_min)
    minutes = times.offset_min + step_min * np.arange(steps)
    within = minutes // times.grid.step_min
    return DryingCurve(
        step_min=step_min,
        loss_l_m2_h=tuple(np.round(loss_l_m2_h[within], 6).tolist()),
        held_l_m2=held_l_m2,
    )


def reserve_at_start_l_m2(
    surface: Surface, loss_l_m2_h: Floats, held_l_m2: float, times: Times
) -> float:
    """Water left at minute 0 in a cover last wetted before it, in L/m²."""
    wetted_at = surface.wetted_at or surface.covered_at
    if wetted_at is None or wetted_at > times.horizon.starts_at or held_l_m2 <= 0:
        return 0.0
    step_min = times.grid.step_min
    from_min = max(0, times.horizon.minute(wetted_at) + times.offset_min)
    reserve_l_m2 = held_l_m2
    for step in range(from_min // step_min, ceil(times.offset_min / step_min)):
        begins = max(from_min, step * step_min)
        ends = min(times.offset_min, (step + 1) * step_min)
        # The loss is even within a step, so clamping at its end is exact.
        left = reserve_l_m2 - loss_l_m2_h[step] * (ends - begins) / 60
        reserve_l_m2 = min(held_l_m2, max(0.0, float(left)))
    return round(reserve_l_m2, 6)


def dry_weights(
    surface: Surface, costs: Costs, horizon: Horizon, factor: float = 1
) -> tuple[WeightStep, ...]:
    """Cost of a dry minute by area, by risk and by age from the end of placing."""
    placed_min = horizon.minute(surface.placing_ends_at)
    area_factor = (surface.area_m2 / _WEIGHED_AS_ONE_M2) ** costs.area_power
    base = costs.dry_cost_per_min * surface.risk * factor
    base *= max(costs.area_floor_factor, area_factor)
    return (
        WeightStep(
            from_min=min(0, placed_min),
            per_min=base * costs.young_24h_factor,
            age="first 24 h",
        ),
        WeightStep(
            from_min=placed_min + _DAY_MIN,
            per_min=base * costs.young_72h_factor,
            age="24 to 72 h",
        ),
        WeightStep(from_min=placed_min + 3 * _DAY_MIN, per_min=base),
    )
