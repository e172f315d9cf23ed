"""How long the two clocks take: ``python tests/bench/clocks.py [surfaces] [days]``.

Measured against a bare Thomas sweep of 21 nodes over as many surfaces and steps,
factorised once, run side by side on the same machine; then at half the surfaces and at
half the days, which should take half the time.
"""

import resource
import sys
from datetime import timedelta
from pathlib import Path
from time import process_time

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

import numpy as np

from models.drying import clock as drying_clock
from models.drying.surroundings import Surroundings, surroundings
from models.hydration import clock as hydration_clock
from models.records import Grid, Pour, SiteInput, Surface
from tests.builders import MONDAY, pour, site_input, surface, weather

STEP_MIN = 10
NODES = 21
REPEATS = 5


def placement(number: int, days: int) -> Surface:
    """One of many surfaces, spread over all but the last two days."""
    hours = (number * 7) % max(1, 24 * (days - 2))
    starts_at = MONDAY + timedelta(hours=hours)
    element = ("slab_on_ground", "suspended_slab", "wall")[number % 3]
    of: Pour = pour(
        f"P{number}",
        element=element,
        thickness_mm=150 + 10 * (number % 30),
        exposure=("open", "sheltered")[number % 2],
        placing_starts_at=starts_at,
        placing_ends_at=starts_at + timedelta(hours=3),
    )
    if element != "wall":
        return surface(of)
    struck_at = starts_at + timedelta(hours=40)
    return surface(
        of, id=f"{of.id}-formed", face="formed", vertical=True, exposed_at=struck_at
    )


class Case:
    """A site of so many surfaces over so many days, ready to run."""

    def __init__(self, surfaces: int, days: int) -> None:
        self.site_input: SiteInput = site_input().model_copy(
            update={"weather": weather(hours=24 * (days + 3))}
        )
        self.surfaces = tuple(placement(i, days) for i in range(surfaces))
        self.grid = Grid(MONDAY, STEP_MIN, days * 1440 // STEP_MIN)
        self.around: Surroundings = surroundings(
            self.surfaces, self.site_input, self.grid
        )

    def hydration(self) -> float:
        """Processor seconds of one run of clock 1."""
        begin = process_time()
        self.history = hydration_clock.run(
            self.surfaces, self.site_input, self.around, self.grid
        )
        return process_time() - begin

    def drying(self) -> float:
        """Processor seconds of one run of clock 2, after clock 1."""
        begin = process_time()
        drying_clock.run(self.surfaces, self.site_input, self.around, self.history)
        return process_time() - begin

    def bare_sweep(self) -> float:
        """Processor seconds of solving tridiagonal systems already factorised."""
        surfaces, work = len(self.surfaces), np.empty(len(self.surfaces))
        lower, diagonal = np.full((NODES, surfaces), -1.0), 3.0
        upper, inverse = np.empty((NODES, surfaces)), np.empty((NODES, surfaces))
        inverse[0] = 1 / diagonal
        for i in range(1, NODES):
            upper[i - 1] = -inverse[i - 1]
            inverse[i] = 1 / (diagonal - lower[i] * upper[i - 1])
        state = np.full((NODES, surfaces), 20.0)
        begin = process_time()
        for _ in range(self.grid.steps):
            state[0] *= inverse[0]
            for i in range(1, NODES):
                np.multiply(lower[i], state[i - 1], out=work)
                state[i] -= work
                state[i] *= inverse[i]
            for i in range(NODES - 2, -1, -1):
                np.multiply(upper[i], state[i + 1], out=work)
                state[i] -= work
        return process_time() - begin


def measure(case: Case) -> tuple[float, float, float]:
    """Least processor seconds of the sweep and of both clocks, taken in turn."""
    rounds = [
        (case.bare_sweep(), case.hydration(), case.drying()) for _ in range(REPEATS)
    ]
    sweep, hydration, drying = map(min, zip(*rounds, strict=True))
    return sweep, hydration, drying


def main() -> None:
    """Print the table."""
    surfaces = int(sys.argv[1]) if len(sys.argv) > 1 else 1000
    days = int(sys.argv[2]) if len(sys.argv) > 2 else 14
    print("surfaces  days  sweep s  clock 1 s  ratio  clock 2 s  both / sweep")
    for n, d in ((surfaces, days), (surfaces // 2, days), (surfaces, days // 2)):
        sweep, one, two = measure(Case(n, d))
        print(
            f"{n:8} {d:5} {sweep:8.2f} {one:10.2f} {one / sweep:6.2f} {two:10.2f} "
            f"{(one + two) / sweep:13.2f}"
        )
        if (n, d) == (surfaces, days):
            peak_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(
        f"memory at most {peak_mb:.0f} MB in the first row, Python and numpy included"
    )


if __name__ == "__main__":
    main()
