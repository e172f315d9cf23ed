"""Plans a site by a foreman's rules: ``python -m tests.bench.foreman SITE > PLAN.csv``.

A reachable mark to hold a solver against, by the yardstick; no bound. His rules, in the
order in which he looks around every five minutes:

1. Compound is mixed ahead and both coats are sprayed the same day.
2. Cloth goes into water in the last shift from which it can be ready; what is scarce
   goes by area and risk. What came off wet is laid wet.
3. All hands lay, strip by strip, the dearest bare surface first, while spare people fog
   the bare rest. Breaks are pauses. Before a time with nobody there all lay.
4. A cover is wetted before it runs dry, and topped up before a time with nobody there,
   where that is worth the hands; a call-out if it saves more than it costs.
5. Hold points, lifting, checks and looks are done by whoever is left.

The plan's area cost, hours and faults go to the error stream.
"""

import argparse
import csv
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path

from tests.bench.pencil.covering import change, fog, lay, soak_ahead
from tests.bench.pencil.outlook import Outlook
from tests.bench.pencil.remaining import duties, lift, special, spray
from tests.bench.pencil.wetting import call_out, thirsty, top_up_min, wet
from tests.bench.weeks import SiteFolder
from tests.bench.yard.facts import SiteFacts, site_facts
from tests.bench.yard.measure import lines, measure
from tests.bench.yard.rows import Row, in_order

_TICK_MIN = 5
_LAST_HOURS_MIN = 120  # of a day, in which what has to be done today comes first
COLUMNS = (
    "crew", "people", "start", "end", "surface", "action", "share", "water", "litres",
    "task", "who",
)  # fmt: skip


def foremans_plan(facts: SiteFacts) -> list[Row]:
    """Walk through a week and send people; gives the rows of the plan."""
    day = Outlook(facts)
    for now in range(0, facts.length_min, _TICK_MIN):
        day.home_min, day.back_min = day.book.crew.manned_again_min(now)
        call_out(day, now)
        if day.book.crew.on(now):
            _look_around(day, now)
    return in_order(day.book.rows)


def _look_around(day: Outlook, now: int) -> None:
    day.top_up_min = top_up_min(day, now)
    spray(day, now)
    if day.home_min - now < _LAST_HOURS_MIN:
        soak_ahead(day, now)
    _cover_and_wet(day, now)
    special(day, now)
    duties(day, now, ("hold",))
    if not day.pressed(now):
        soak_ahead(day, now)
        change(day, now)
        lift(day, now)
        duties(day, now, ("check", "look"))


def _cover_and_wet(day: Outlook, now: int) -> None:
    """Do what saves most for a worker-minute first, bare or dry."""
    bare = [(day.worth(s, now), s, None) for s in day.spots if day.bare(s, now)]
    found = [*bare, *thirsty(day, now)]
    for _, spot, action in sorted(found, key=lambda x: (-x[0], x[1].id)):
        if action is not None:
            wet(day, spot, action, now)
            continue
        foggers = day.foggers(spot, now)
        if day.may_lay(spot, now):
            lay(day, spot, now, foggers)
        elif foggers:
            fog(day, spot, now, foggers)


def written(facts: SiteFacts, rows: Iterable[Row]) -> Iterator[list[str]]:
    """Give the lines of a table of rows."""
    yield list(COLUMNS)
    for row in rows:
        start, end = (
            f"{facts.clock.local(minute):%Y-%m-%d %H:%M}"
            for minute in (row.start_min, row.end_min)
        )
        yield [
            row.crew, str(row.people), start, end, row.surface_id, row.action,
            f"{row.share:.6f}", row.point, f"{row.litres_l:.2f}", row.task,
            "+".join(map(str, row.who)),
        ]  # fmt: skip


def main() -> None:
    """Read the command line, plan and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("site", type=Path, metavar="SITE")
    told = parser.parse_args()
    facts = site_facts(SiteFolder(told.site).work())
    rows = foremans_plan(facts)
    csv.writer(sys.stdout).writerows(written(facts, rows))
    for line in lines(f"foreman, {told.site.name}", measure(facts, rows)):
        print(line, file=sys.stderr)


if __name__ == "__main__":
    main()
