r"""What no roster for a work list can cost less than: proven, and never more than that.

Notes
-----
Lagrangian relaxation: the rule that crews cannot work more minutes than they have is
replaced by a price on their minutes, :math:`\lambda_t` for each quarter of an hour
and each pool of shifts. The rule that a call-out is paid before anybody is served by
it is kept customer by customer: each gives a fee :math:`\mu_c` for the night. Then
every surface and every duty chooses its cheapest way by itself, every shift sells its
time, every night of call-outs pays or not, and for any prices the sum

.. math:: \sum_c \min_{x_c} (c_c(x_c) + \lambda \cdot u(x_c) + \mu_c z(x_c))
          - \lambda \cdot m
          - \sum_n \max(0, \sum_c \mu_{nc} + \sum_k (\lambda \cdot m_k - c_k)^+)

is a lower bound; if no call-out of a night earns its price, the one that falls least
short stands for the last sum. Walks between jobs, water that jobs share, the order of
work, rest and covers in stock are left out, each of which could only make a roster
dearer. The prices are found by subgradient steps, scaled one by one by what their
shortage was of late [1]_; that they are good is luck, that the bound holds is not.

At prices of nothing the same sum is what each surface costs with every crew and all
the water for itself: the floors of the surfaces.

References
----------
.. [1] D. P. Kingma, J. Ba, "Adam: a method for stochastic optimization", ICLR 2015
   (from memory).
"""

from dataclasses import dataclass
from math import ceil

import numpy as np

from models.records import SurfaceFloor
from scheduler.solver.bound.crews import SLOT_MIN, Floats
from scheduler.solver.bound.relaxed import Relaxed
from scheduler.solver.problem.problem import Problem

#: Steps taken: more than the least where a step is quick and still gains.
_LEAST_STEPS, _MOST_STEPS = 40, 120
_STEPS_FOR_EACH_SURFACE, _QUICK_SURFACES = 2, 4800
_FIRST_PRICE, _FIRST_FEE = 0.1, 0.025  # a minute; share of a call-out
_FIRST_STRIDE, _LAST_STRIDE = 0.5, 0.01  # price of two minutes of work
_FEE_STRIDE = 0.075  # share of a call-out at a stride of 1
_PRICE_STRIDE = 2.0  # price a minute at a stride of 1
_KEEP_MEAN, _KEEP_SPREAD = 0.7, 0.95
_NOISE = 1e-6  # of the value and more: sums of decimals
_DIGITS = 6
_WORDS = (
    "counted as if nobody lost time on walks, on rest or on waiting for water, and "
    "crews of the same skills shared every minute of their shifts; call-outs and "
    "overtime are paid, so a true roster costs this or more"
)


@dataclass(frozen=True)
class Bound:
    """A proven lower bound, how it was found, and the floor of each surface."""

    value: float
    words: str
    floors: tuple[SurfaceFloor, ...]


def lower_bound(problem: Problem, steps: int | None = None) -> Bound:
    """Prove a bound.

    Parameters
    ----------
    problem : Problem
        The work.
    steps : int or None
        Looks for better prices; None: as many as suit the size of the site.
    """
    relaxed = Relaxed(problem)
    free = np.zeros((relaxed.crews.pools, relaxed.crews.slots))
    unasked = np.zeros((len(relaxed.crews.nights), relaxed.customers))
    alone = relaxed.value(free, unasked)  # what crews cannot help
    steps = _usual_steps(len(problem.surfaces)) if steps is None else steps
    best = max(alone.total, _best_of(relaxed, steps))
    costs = np.zeros(len(problem.surfaces))
    np.add.at(costs, relaxed.surface_of, alone.by_customer)
    del relaxed  # two of them at once would double what a large site takes
    return Bound(_safe(best), _WORDS, _floors(problem, costs))


def _usual_steps(surfaces: int) -> int:
    least = _LEAST_STEPS + _STEPS_FOR_EACH_SURFACE * surfaces
    quick = max(_LEAST_STEPS, _QUICK_SURFACES // max(1, surfaces))
    return min(_MOST_STEPS, least, quick)


def _best_of(relaxed: Relaxed, steps: int) -> float:
    """Look for prices that prove most; the best value met on the way."""
    crews = relaxed.crews
    calls = np.array(
        [
            min(relaxed.problem.lanes[lane].call_out_cost for lane in night.lanes)
            for night in crews.nights
        ]
    )
    prices = np.full((crews.pools, crews.slots), _FIRST_PRICE)
    fees = np.tile(_FIRST_FEE * calls[:, None], (1, relaxed.customers))
    price_steps, fee_steps = _Steps(prices.shape), _Steps(fees.shape)
    best = 0.0
    for step in range(steps):
        value = relaxed.value(prices, fees)
        best = max(best, value.total)
        stride = _FIRST_STRIDE * (_LAST_STRIDE / _FIRST_STRIDE) ** (step / steps)
        way = price_steps.towards(value.lack / SLOT_MIN)
        prices = np.maximum(0.0, prices + stride * _PRICE_STRIDE * way)
        way = fee_steps.towards(value.unpaid)
        fees = np.maximum(0.0, fees + stride * _FEE_STRIDE * calls[:, None] * way)
    return best


class _Steps:
    """Steps of about equal width for every price, however often it is short."""

    def __init__(self, shape: tuple[int, ...]) -> None:
        self._mean, self._spread = np.zeros(shape), np.zeros(shape)
        self._taken = 0

    def towards(self, lack: Floats) -> Floats:
        """Direction of the next step, about 1 where the lack keeps its sign."""
        self._taken += 1
        self._mean = _KEEP_MEAN * self._mean + (1 - _KEEP_MEAN) * lack
        self._spread = _KEEP_SPREAD * self._spread + (1 - _KEEP_SPREAD) * lack**2
        # Both start at nothing; the early steps are scaled up for that.
        heading = self._mean / (1 - _KEEP_MEAN**self._taken)
        width = np.sqrt(self._spread / (1 - _KEEP_SPREAD**self._taken)) + 1e-9
        way: Floats = heading / width
        return way


def _floors(problem: Problem, costs: Floats) -> tuple[SurfaceFloor, ...]:
    """Say what each surface costs and how long it is dry, whatever crews do."""
    return tuple(
        SurfaceFloor(
            surface_id=surface.work.surface_id,
            cost=round(_safe(costs[surface.index]), _DIGITS),
            dry_min=ceil(_safe(minutes)),
        )
        for surface, minutes in zip(
            problem.surfaces, Relaxed(problem, in_minutes=True).alone(), strict=True
        )
    )


def _safe(value: float) -> float:
    return max(0.0, float(value) - _NOISE * (1 + float(value)))
