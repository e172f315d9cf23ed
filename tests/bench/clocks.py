"""How long the two clocks take: ``python tests/bench/clocks.py [surfaces] [days]``.

Measured against what no program for this can leave out, bare numpy side by side on the
same machine: an implicit march of 21 nodes for as many surfaces and steps, factorised
once, with heat of hydration in every node and step; and, for the share of the solving
alone, the same without the heat. Then all again at half the surfaces and half the days,
which should take half the time. Seconds are the processor's, the least of some rounds.
"""

import resource
import sys
from datetime import timedelta
from pathlib import Path
from time import process_time

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

import numpy as np

from models.drying import clock as drying_clock
from models.drying.surroundings import surroundings
from models.hydration import clock as hydration_clock
from models.records import Grid, Pour, SiteInput, Surface
from tests.builders import MONDAY, pour, site_input, surface, weather

STEP_MIN = 10
NODES = 21
ROUNDS = 5
#: ``with heat`` and ``sweep`` are bare numpy, all others the clocks'; seconds, then the
#: clocks' sum over the one and over the other.
COLUMNS = (
    *("surfaces", "days", "with heat", "sweep"),
    *("around", "clock 1", "clock 2", "all"),
    *("all/heat", "all/sweep"),
)


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
    """A site of so many surfaces over so many days, and the clocks over it."""

    def __init__(self, surfaces: int, days: int) -> None:
        self.site_input: SiteInput = site_input().model_copy(
            update={"weather": weather(hours=24 * (days + 3))}
        )
        self.surfaces = tuple(placement(i, days) for i in range(surfaces))
        self.grid = Grid(MONDAY, STEP_MIN, days * 1440 // STEP_MIN)

    def clocks_s(self) -> tuple[float, float, float]:
        """Seconds of the surroundings, of clock 1 and of clock 2."""
        begin = process_time()
        around = surroundings(self.surfaces, self.site_input, self.grid)
        met = process_time()
        history = hydration_clock.run(self.surfaces, self.site_input, around, self.grid)
        hydrated = process_time()
        drying_clock.run(self.surfaces, self.site_input, around, history)
        return met - begin, hydrated - met, process_time() - hydrated


class BareMarch:
    """Implicit heat flow through equal nodes of concrete, in the plainest numpy.

    Arrays are ``(nodes, surfaces)``; the air is at 15 °C on one side, the other side
    lets no heat pass.
    """

    def __init__(self, surfaces: int, steps: int) -> None:
        self.steps = steps
        node_m = np.linspace(0.15, 0.44, surfaces) / NODES
        to_next = 600 * 1.8 / node_m / (2.4e6 * node_m)  # per step, over storage
        from_air = 600 * 20.0 / (2.4e6 * node_m)
        diagonal = np.tile(1 + 2 * to_next, (NODES, 1))
        diagonal[0] += from_air - to_next
        diagonal[-1] -= to_next
        self.beside = -to_next
        self.from_air_k = from_air * 15.0
        self.upper, self.inverse = np.empty((2, NODES, surfaces))
        self.inverse[0] = 1 / diagonal[0]
        for i in range(1, NODES):
            self.upper[i - 1] = self.beside * self.inverse[i - 1]
            self.inverse[i] = 1 / (diagonal[i] - self.beside * self.upper[i - 1])
        self.state_c = np.full((NODES, surfaces), 20.0)
        self.work = np.empty(surfaces)

    def sweep(self) -> None:
        """Solve for the next step: forwards through the nodes and back."""
        state_c, work = self.state_c, self.work
        state_c[0] += self.from_air_k
        state_c[0] *= self.inverse[0]
        for i in range(1, NODES):
            np.multiply(self.beside, state_c[i - 1], out=work)
            state_c[i] -= work
            state_c[i] *= self.inverse[i]
        for i in range(NODES - 2, -1, -1):
            np.multiply(self.upper[i], state_c[i + 1], out=work)
            state_c[i] -= work

    def sweeps_s(self) -> float:
        """Seconds of the solving alone."""
        begin = process_time()
        for _ in range(self.steps):
            self.sweep()
        return process_time() - begin

    def with_heat_s(self) -> float:
        """Seconds with heat of hydration: Arrhenius rate, three-parameter curve."""
        energy_k, tau_h, beta, adiabatic_k = 40_000 / 8.314, 14.0, 0.9, 40.0
        age_h = np.full(self.state_c.shape, 0.75)
        released_k = adiabatic_k * np.exp(-((tau_h / age_h) ** beta))
        begin = process_time()
        for _ in range(self.steps):
            rate = np.exp(energy_k * (1 / 294.25 - 1 / (self.state_c + 273.15)))
            age_h += rate * (STEP_MIN / 60)
            until_now_k = adiabatic_k * np.exp(-((tau_h / age_h) ** beta))
            self.state_c += until_now_k - released_k
            released_k = until_now_k
            self.sweep()
        return process_time() - begin


def measure(surfaces: int, days: int) -> tuple[float, ...]:
    """Least seconds of bare march, its sweep alone, surroundings, clock 1, clock 2.

    They take turns, so that a busy machine slows all of them.
    """
    case = Case(surfaces, days)
    rounds = [
        (
            BareMarch(surfaces, case.grid.steps).with_heat_s(),
            BareMarch(surfaces, case.grid.steps).sweeps_s(),
            *case.clocks_s(),
        )
        for _ in range(ROUNDS)
    ]
    return tuple(map(min, zip(*rounds, strict=True)))


def main() -> None:
    """Print the table."""
    surfaces = int(sys.argv[1]) if len(sys.argv) > 1 else 1000
    days = int(sys.argv[2]) if len(sys.argv) > 2 else 14
    print("".join(f"{name:>10}" for name in COLUMNS))
    for n, d in ((surfaces, days), (surfaces // 2, days), (surfaces, days // 2)):
        heat, sweep, *clocks = measure(n, d)
        both = sum(clocks)
        seconds = "".join(f"{s:10.2f}" for s in (heat, sweep, *clocks, both))
        print(f"{n:10}{d:10}{seconds}{both / heat:10.2f}{both / sweep:10.2f}")
        if (n, d) == (surfaces, days):
            peak_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"memory at most {peak_mb:.0f} MB in the first row, Python included")


if __name__ == "__main__":
    main()
