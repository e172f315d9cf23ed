"""Rows handed in on an invented site, a week of which was published by hand."""

from collections.abc import Mapping
from datetime import UTC, datetime, timedelta
from pathlib import Path

from models.errors import Place, Problem
from models.files.log_sheet import read_log_row
from models.files.reading.problems import ProblemCollector
from models.ledger.sqlite_store import open_sqlite
from models.ledger.store import Store
from models.records import NewEntry
from scheduler.logbook.known import Known
from scheduler.logbook.take import take
from tests.builders import MONDAY, pour, site_input
from tests.exports.exports_builders import small_roster
from tests.models.ledger.ledger_builders import issue, visit

#: Tuesday 4 May 2027, 16:00 on the site's clock; the pour began Monday at 07:00.
NOW = datetime(2027, 5, 4, 14, 0, tzinfo=UTC)
PUBLISHED_AT = MONDAY - timedelta(days=1)


def ledger(folder: Path, published_at: datetime = PUBLISHED_AT) -> Store:
    """A ledger in which one issue was published on Sunday."""
    store = open_sqlite(folder / "ledger.sqlite")
    roster = small_roster()
    first = next(one for one in roster.visits if one.task_id == "P1-top/rewet")
    store.publish(
        issue(1, published_at=published_at, roster=roster.model_dump_json()),
        [visit(1, visit_id=first.id)],
    )
    return store


def known(store: Store | None = None) -> Known:
    """Two pours, one of Monday and one of Wednesday."""
    wednesday = MONDAY + timedelta(days=2)
    later = pour(
        "P4",
        placing_starts_at=wednesday + timedelta(hours=1),
        placing_ends_at=wednesday + timedelta(hours=5),
        formed_area_m2=40,
        strike_at=wednesday + timedelta(days=1),
        formed_method="burlap_double",
    )
    return Known(site_input(pour("P1"), later), store)


def handed_in(
    about: Known, *rows: Mapping[str, object], now: datetime = NOW
) -> tuple[tuple[NewEntry, ...], tuple[Problem, ...]]:
    """Hand rows in as commands do; give the entries and what is wrong."""
    problems = ProblemCollector()
    read = [
        read_log_row({"by": "AK", **row}, Place("log", n), problems)
        for n, row in enumerate(rows, start=1)
    ]
    handed = take(read, about, now, problems, at_once=True)
    return handed.entries, problems.in_order()


def refused(about: Known, row: Mapping[str, object], now: datetime = NOW) -> str:
    """Hand a row in that is refused, and give the words."""
    _, problems = handed_in(about, row, now=now)
    assert problems
    return "\n".join(str(problem).removeprefix("log:1") for problem in problems)
