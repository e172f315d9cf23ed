"""What has happened, as a site's ledger has it."""

from datetime import datetime
from pathlib import Path
from typing import TypeVar

from pydantic import ValidationError

from models.errors import InputError, Place, Problem
from models.files.site_folder import read_folder
from models.ledger.sqlite_store import FILE_NAME
from models.ledger.standing import standing
from models.ledger.store import Store
from models.ledger.where import find_ledger
from models.records import (
    Issue,
    PlannedPours,
    Record,
    Roster,
    VisitIdentity,
    Weather,
)
from scheduler.happened.so_far import SoFar

Kept = TypeVar("Kept", bound=Record)


def so_far_of(
    store: Store,
    at: datetime | None = None,
    entries_up_to: int | None = None,
    issue_number: int | None = None,
) -> SoFar | None:
    """Gather what a ledger knows; None before anything was published.

    Parameters
    ----------
    at : datetime or None
        What starts before has begun; None for as far as anybody has written, or else
        the start of the published week.
    entries_up_to : int or None
        Leave newer entries out; None for all.
    issue_number : int or None
        As of that issue; None for the newest.

    Raises
    ------
    InputError
        If the issue's roster was written by another version.
    """
    if issue_number is None:
        issue, known = store.newest_issue(), store.visits()
    else:
        issue, known = store.issue(issue_number), visits_as_of(store, issue_number)
    if issue is None:
        return None
    roster = roster_of(issue)
    written = store.entries()
    if entries_up_to is not None:
        written = tuple(one for one in written if one.number <= entries_up_to)
    entries = standing(written)
    if at is None:
        worked = (one.happened_at for one in entries if one.kind.startswith("work_"))
        at = max([roster.horizon.starts_at, *worked])
    places = ((one.id, one.visit_id) for one in known)
    return SoFar(
        at=at,
        issue=roster,
        entries=entries,
        place_of={name: place for name, place in places if place is not None},
        issue_number=issue.number,
        entries_up_to=max((one.number for one in written), default=0),
        taken_up=issue.entries_up_to,
        published_at=issue.published_at,
        pours=pours_of(issue),
        weather=weather_of(issue),
    )


def so_far_in(folder: Path, database: str = "") -> SoFar | None:
    """Gather what the ledger of a site folder knows, as far as anybody has written.

    None where nothing was published. What is wrong with the site folder is left to
    whoever plans it.

    Parameters
    ----------
    database : str
        Connection string of a firm's database; "" for a file in the folder.

    Raises
    ------
    InputError
        If the ledger cannot be read.
    """
    if not database and not (folder / FILE_NAME).exists():
        return None  # most folders: nothing has to be read for that
    site_input = read_folder(folder).site_input
    if site_input is None:
        return None
    store = find_ledger(folder, site_input.site.name, database)
    if store is None:
        return None
    with store:
        return so_far_of(store)


def visits_as_of(store: Store, issue_number: int) -> tuple[VisitIdentity, ...]:
    """Give what was known of visits when an issue had been published."""
    newest: dict[str, VisitIdentity] = {}
    for number in range(1, issue_number + 1):
        newest.update({one.id: one for one in store.visits(number)})
    return tuple(newest.values())


def roster_of(issue: Issue) -> Roster:
    """Read the roster of an issue.

    Raises
    ------
    InputError
        If it was written by another version.
    """
    return _read(issue, "roster", issue.roster, Roster)


def pours_of(issue: Issue) -> PlannedPours:
    """Read the pours of an issue as :func:`roster_of` reads its roster."""
    if not issue.pours:
        return PlannedPours()
    return _read(issue, "pours", issue.pours, PlannedPours)


def weather_of(issue: Issue) -> Weather:
    """Read the forecast of an issue as :func:`roster_of` reads its roster."""
    return _read(issue, "forecast", issue.forecast, Weather)


def _read(issue: Issue, what: str, text: str, kind: type[Kept]) -> Kept:
    try:
        return kind.model_validate_json(text)
    except ValidationError:
        place = Place(f"issue {issue.number}")
        hint = "Plan with the version that published it, or plan afresh"
        wanted = f"the {what} as this version writes it"
        problem = Problem(place, what, "another format", wanted, hint)
        raise InputError([problem]) from None
