"""Where a surface is dry, minute by minute: what gaps and their prices are made of.

Plain ints of time are minutes from the start of the horizon.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from scheduler.solver.plan.cost import Stop, covered_between, dry_stretches
from scheduler.solver.plan.plan import Plan
from scheduler.solver.problem.problem import Surface


def dry_runs(
    plan: Plan, surface: Surface, stops: Sequence[Stop]
) -> list[tuple[int, int, bool]]:
    """Find runs of dry minutes, bare and covered apart: first minute, the one after."""
    dry = dry_shares_by_minute(plan, surface, stops) > 0
    runs: list[tuple[int, int, bool]] = []
    for row in (0, 1):
        edges = np.flatnonzero(np.diff(np.concatenate(([0], dry[row], [0]))))
        pairs = edges.reshape(-1, 2).tolist()
        runs += [(first, last, bool(row)) for first, last in pairs]
    return sorted(runs)


def dry_shares_by_minute(
    plan: Plan, surface: Surface, stops: Sequence[Stop]
) -> NDArray[np.float64]:
    """Give the share of a surface that is dry in each minute, bare and under its cover.

    A stretch without a visit may hold minutes that rain or bleeding keeps damp.

    Returns
    -------
    array (2, minutes)
        Shares from 0 to 1, of the bare surface first. [-]
    """
    horizon = plan.problem.horizon
    dry = np.zeros((2, horizon))
    clock = surface.minutes
    on, _ = covered_between(plan.problem, surface, stops)
    counts = (np.diff(clock.fresh_count) > 0, np.diff(clock.covered_count) > 0)
    rain = clock.late_rain(on) if on is not None and on > 0 else None
    for stretch in dry_stretches(plan.problem, surface, stops):
        span = slice(stretch.start, stretch.end)
        row = int(stretch.covered)
        dry[row, span][counts[row][span]] = stretch.share
        if rain is not None and on is not None and stretch.covered:
            first, last = max(on, stretch.start), min(rain[0], stretch.end)
            for minute in range(first, last):
                if rain[2][minute - on + 1] > rain[2][minute - on]:
                    dry[1, minute] = 1.0
    return dry
