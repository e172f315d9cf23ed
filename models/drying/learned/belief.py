"""What is believed of a cover: weights over how fast it dries and how much it holds.

Numbers only. A grid in both figures, by the logarithm: ten times as fast is as far as
ten times as slow. Bayes on a grid needs no shape of what comes out, and finds that tell
only "not yet" cut it off on one side.
"""

from typing import NamedTuple

import numpy as np

from models.drying.ranges import Floats

#: From a fifth to five times what the clock says: beyond that it is another cover.
LN_LOSS: Floats = np.linspace(np.log(0.2), np.log(5.0), 81)
LN_HELD: Floats = np.linspace(np.log(0.3), np.log(4.0), 59)
LOSS: Floats = np.exp(LN_LOSS)[:, None]
HELD: Floats = np.exp(LN_HELD)[None, :]
#: Of a normal distribution, from its middle to where a twentieth is left. [spreads]
_TO_TWENTIETH = 1.645
#: A figure that a range says to be exact is not: half a tenth either way (assumption).
_LEAST_SPREAD = 0.05


class Range(NamedTuple):
    """Where nine tenths of a figure lie, as shares of what the table says."""

    low: float
    high: float


class Quantiles(NamedTuple):
    """The middle of a figure, and where nine tenths of it lie."""

    median: float
    low: float
    high: float


def prior(loss: Range, held: Range) -> Floats:
    """Log weights before any find: the table's figures, no surer than its ranges.

    Two halves of normal distributions by the logarithm, one on either side of the
    table's figure, which is as likely too high as too low: a range need not lie evenly
    around it.
    """
    return _halves(LN_LOSS, loss)[:, None] + _halves(LN_HELD, held)[None, :]


def _halves(logarithms: Floats, within: Range) -> Floats:
    below = max(-np.log(within.low) / _TO_TWENTIETH, _LEAST_SPREAD)
    above = max(np.log(within.high) / _TO_TWENTIETH, _LEAST_SPREAD)
    spread = np.where(logarithms < 0, below, above)
    return np.asarray(-0.5 * (logarithms / spread) ** 2 - np.log(spread))


def weights(log_weights: Floats) -> Floats:
    """Weights that add up to one."""
    found = np.exp(log_weights - log_weights.max())
    return np.asarray(found / found.sum())


def blurred(log_weights: Floats, spread: float) -> Floats:
    """Log weights where the loss may be off by a spread of its logarithm."""
    apart = (LN_LOSS[:, None] - LN_LOSS[None, :]) / spread
    kernel = np.exp(-0.5 * apart**2)
    kernel /= kernel.sum(axis=1, keepdims=True)
    most = log_weights.max()
    return np.asarray(np.log(kernel @ np.exp(log_weights - most) + 1e-300) + most)


def loss_of(log_weights: Floats) -> Quantiles:
    """Say how fast it dries, as a share of what the clock says."""
    return _quantiles(LN_LOSS, weights(log_weights).sum(axis=1))


def held_of(log_weights: Floats) -> Quantiles:
    """Say how much it holds, as a share of what the table says."""
    return _quantiles(LN_HELD, weights(log_weights).sum(axis=0))


def _quantiles(logarithms: Floats, shares: Floats) -> Quantiles:
    below = np.cumsum(shares) - shares / 2  # up to the middle of each step
    low, median, high = np.exp(np.interp([0.05, 0.5, 0.95], below, logarithms))
    return Quantiles(float(median), float(low), float(high))
