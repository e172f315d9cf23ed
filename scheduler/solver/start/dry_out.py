"""When each cover that can be wetted runs dry next, as arrays.

Plain ints of time are minutes from the start of the horizon.
"""

import numpy as np

from models.records import Floats
from scheduler.solver.plan.plan import Plan
from scheduler.solver.start.job_arrays import JobArrays


class DryOut:
    """Covers by row, in the order of their surfaces.

    Attributes
    ----------
    rewets : JobArrays
        What wets each.
    weight : array
        What a minute of its next dry stretch costs.
    """

    def __init__(self, plan: Plan) -> None:
        self.plan, problem = plan, plan.problem
        rewets = [s.rewet for s in problem.surfaces if s.rewet is not None]
        self.rewets = JobArrays(problem, [problem.jobs[number] for number in rewets])
        self._surfaces = self.rewets.surfaces.tolist()
        self._row = {index: row for row, index in enumerate(self._surfaces)}
        self.weight = np.zeros(len(rewets))
        self._from = np.zeros(len(rewets))
        self._until = np.zeros(len(rewets))

    def find_next(self, surface: int, now: int) -> None:
        """Find the next dry stretch of a cover anew."""
        row = self._row.get(surface)
        if row is None:
            return
        self._from[row] = self._until[row] = np.inf
        for stretch in self.plan.surface_costs[surface].stretches:
            if stretch.covered and stretch.end > now:
                self._from[row], self._until[row] = stretch.start, stretch.end
                self.weight[row] = stretch.cost / stretch.minutes
                return

    def dry_from(self, now: int) -> Floats:
        """Minute from now on at which each is dry; infinite where it stays damp."""
        for row in np.flatnonzero(self._until <= now).tolist():
            self.find_next(self._surfaces[row], now)
        dry: Floats = np.maximum(self._from, now)
        return dry
