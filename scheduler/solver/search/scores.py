"""What each operator gained of late for its work: how often it is drawn."""

from collections.abc import Sequence
from math import sqrt

from scheduler.solver.settings.neighbourhoods import OperatorSettings


class OperatorScores:
    """Scores of the operators, by their number.

    Parameters
    ----------
    memory : float
        Share of a score that is kept from one use to the next.
    """

    def __init__(self, operators: Sequence[OperatorSettings], memory: float) -> None:
        self._memory = memory
        self._gain = [1.0 / operator.first_work for operator in operators]
        self._work = [operator.first_work / 3 for operator in operators]

    def weights(self) -> list[float]:
        """Give the weight with which each is drawn."""
        pairs = zip(self._gain, self._work, strict=True)
        return [sqrt(gain / work) for gain, work in pairs]

    def update(self, number: int, gain: float, work: float) -> None:
        """Note what one gained, and the work it took."""
        work, new = max(work, 1e-3), 1 - self._memory
        self._gain[number] = max(
            1.0, self._memory * self._gain[number] + new * gain / work
        )
        self._work[number] = self._memory * self._work[number] + new * work
