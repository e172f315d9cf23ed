"""Judges planned weeks as an old foreman would.

``python -m tests.bench.foreman_check SITE...`` takes site folders; one without a roster
in its ``out`` is planned first. A table shows each rule by site; what is over its limit
has a star, what is only told is in brackets. ``--cases`` adds the ten worst cases of
each rule in words. Exit 1 if any rule of any site is over, 10 if a site or its roster
cannot be read.

Rules, one sentence each, stand in the docstrings of ``tests/bench/sense``; those that
have a share for a limit name it in the table's last column.
"""

import argparse
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path

from models.errors import InputError
from tests.bench.sense.judged import judged
from tests.bench.sense.verdict import Verdict
from tests.bench.sense.week import Week, read_week

_MOST_CASES = 10
_TITLE = 64
_CELL = 16


def cell(verdict: Verdict) -> str:
    """``3 (1.2 %)*``: amount, share, and a star if that is over."""
    share = "" if verdict.share is None else f" {100 * verdict.share:.1f} %"
    words = f"{verdict.amount:,.0f}{share}"
    return f"[{words}]" if verdict.told else f"{words}{'*' if verdict.over else ''}"


def table(names: Sequence[str], of_sites: Sequence[Sequence[Verdict]]) -> Iterator[str]:
    """One row a rule, one column a site."""
    head = "".join(f"{name[: _CELL - 2]:>{_CELL}}" for name in names)
    yield f"{'rule':<{_TITLE}}{head}  limit"
    for row in zip(*of_sites, strict=True):
        title = f"{row[0].rule:<9}{row[0].title}"[: _TITLE - 1]
        cells = "".join(f"{cell(verdict):>{_CELL}}" for verdict in row)
        limit = f"{100 * row[0].most:g} %" if row[0].most else "0"
        yield f"{title:<{_TITLE}}{cells}  {'told' if row[0].told else limit}"


def cases(name: str, week: Week, verdicts: Sequence[Verdict]) -> Iterator[str]:
    """What was found on one site, in words."""
    yield f"\n{name}: {len(week.works)} surfaces, {len(week.jobs)} visits"
    yield f"  dry {week.dry_min:,.0f} min, weighted {week.dry_cost:,.0f}"
    for verdict in verdicts:
        if verdict.cases:
            unit = f", {verdict.unit}" if verdict.unit else ""
            yield f"  {verdict.rule} {verdict.title}: {cell(verdict)}{unit}"
        for case in verdict.worst[:_MOST_CASES]:
            yield f"    - {case.words}"


def main() -> int:
    """Read the command line, judge and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("sites", type=Path, nargs="+", metavar="SITE")
    parser.add_argument("--cases", action="store_true", help="ten cases of each rule")
    told = parser.parse_args()
    try:
        weeks = [read_week(folder) for folder in told.sites]
    except InputError as error:
        print(error, file=sys.stderr)
        return 10
    verdicts = [judged(week) for week in weeks]
    names = [folder.resolve().name for folder in told.sites]
    for line in table(names, verdicts):
        print(line)
    for name, week, own in zip(names, weeks, verdicts, strict=True):
        for line in cases(name, week, own) if told.cases else ():
            print(line)
    return 1 if any(verdict.over for own in verdicts for verdict in own) else 0


if __name__ == "__main__":
    raise SystemExit(main())
