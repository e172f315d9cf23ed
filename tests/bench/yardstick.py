"""Judges any plan of a site: ``python -m tests.bench.yardstick SITE [PLAN.csv ...]``.

Without a plan the roster in the site's ``out`` is judged (planned, if there is none).
Plans are rows of who does how much of which surface when
(``tests/bench/yard/rows.py``), so that one by a foreman and one by a solver are told by
the same clocks and rules.
``--surfaces`` adds the area cost of each surface, the dearest first.
"""

import argparse
from pathlib import Path

from tests.bench.sense.week import read_week
from tests.bench.weeks import SiteFolder
from tests.bench.yard.facts import site_facts
from tests.bench.yard.measure import Measure, lines, measure
from tests.bench.yard.rows import read_rows, rows_of


def main() -> int:
    """Read the command line, judge and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("site", type=Path, metavar="SITE")
    parser.add_argument("plans", type=Path, nargs="*", metavar="PLAN.csv")
    parser.add_argument("--surfaces", action="store_true")
    told = parser.parse_args()
    facts = site_facts(SiteFolder(told.site).work())
    judged: dict[str, Measure] = {}
    for path in told.plans:
        judged[path.stem] = measure(facts, read_rows(path, facts.clock))
    if not told.plans:
        judged["roster"] = measure(facts, rows_of(read_week(told.site)))
    for name, of in judged.items():
        for line in lines(name, of):
            print(line)
        ranked = sorted(of.cost_by_surface.items(), key=lambda one: -one[1])
        for sid, cost in ranked if told.surfaces else ():
            print(f"    {sid:<14}{cost:>12,.0f}")
    return 1 if any(of.violations for of in judged.values()) else 0


if __name__ == "__main__":
    raise SystemExit(main())
