"""A draft becomes a numbered issue: who each visit is and what changed, in one step."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from pydantic import ValidationError

from exports.entries import entries as entries_of
from exports.handed import Handed
from exports.told import told_visits
from models.errors import InputError, Place, Problem
from models.files.digest import input_digest
from models.files.published import own_roster, read_roster
from models.files.site_folder import read_folder
from models.ledger.store import Store
from models.records import (
    ChangeList,
    Draft,
    Issue,
    PlannedPours,
    Reported,
    Roster,
    SiteInput,
    VisitIdentity,
    WorkDone,
)
from scheduler.hand_out import DRAFT_NAME, HandedOut, write
from scheduler.happened.ledgered import roster_of, so_far_of, visits_as_of
from scheduler.happened.so_far import SoFar
from scheduler.identity.begun import pins
from scheduler.identity.changes import change_list
from scheduler.identity.follow import follow, shown_taken_back
from scheduler.workflow import Plan, PlanOptions, judged, prepare

_PLAN = "Plan again: keepdamp plan, or keepdamp replan once the week has begun"


@dataclass(frozen=True)
class PublishedIssue:
    """An issue and all that was written of it."""

    issue: Issue
    handed: Handed
    out: HandedOut


def publish(
    folder: Path,
    store: Store,
    at: datetime,
    new_id: Callable[[], str],
    note: str = "",
) -> PublishedIssue:
    """Give the planned draft of a site its number, and write all of it anew with that.

    Ledger and ``out`` change in one step as far as a disk allows it: all files are
    there under another name before the ledger is written, and in their place after it.
    An issue whose files a fault kept back is finished by publishing again.

    Parameters
    ----------
    folder : Path
        The site folder; its ``out`` holds the draft.
    store : Store
        The site's ledger.
    at : datetime
        When it is published.
    new_id : callable
        Gives a fresh random UUID in text.
    note : str
        Kept with the issue.

    Raises
    ------
    InputError
        If there is no draft, or the folder or the ledger has changed since it was
        planned.
    """
    draft, roster = _draft(folder)
    newest = store.newest_issue()
    if newest is not None and _is_same(newest, draft, roster):
        return _finished(folder, store, newest, draft)
    _require_unchanged(folder, draft, newest)
    so_far = _so_far(store, draft)
    made = _judged(folder, roster, so_far)
    known = store.visits()
    number = store.next_issue_number()
    identities = _identities(made, known, so_far, number, at, new_id)
    changes = None if newest is None else change_list(known, identities, newest.number)
    handed = _handed(number, at, identities, changes)
    issue = Issue(
        number=number,
        published_at=at,
        input_digest=draft.input_digest,
        entries_up_to=draft.entries_up_to,
        seed=roster.seed,
        cost=roster.cost,
        objective=roster.objective,
        note=note,
        forecast=made.clocked.site_input.weather.model_dump_json(),
        roster=roster.model_dump_json(),
        pours=_planned_pours(made.clocked.site_input).model_dump_json(),
    )
    rows = [one for one in identities if one.issue_number == number]
    out = write(folder, made, handed, ready=lambda: store.publish(issue, rows))
    return PublishedIssue(issue, handed, out)


def _planned_pours(site_input: SiteInput) -> PlannedPours:
    """Keep pours as they are known by now, under the rule they are cured by."""
    own = {"profile": site_input.site.profile}
    return PlannedPours(
        pours=tuple(
            pour if pour.profile is not None else pour.model_copy(update=own)
            for pour in site_input.pours
        ),
        reported=tuple(
            Reported(
                surface_id=one.surface_id,
                covered_at=one.covered_at,
                wetted_at=one.wetted_at,
            )
            for one in site_input.reported
            if one.covered_at is not None
        ),
    )


def _draft(folder: Path) -> tuple[Draft, Roster]:
    """Read the draft of a site and what it was planned from."""
    path = own_roster(folder).with_name(DRAFT_NAME)
    try:
        draft = Draft.model_validate_json(path.read_text("utf-8"))
    except FileNotFoundError:
        place, hint = Place(str(path.parent)), "Plan the site: keepdamp plan"
        found = "no draft: nothing was planned since the last issue"
        raise InputError([Problem(place, "", found, hint=hint)]) from None
    except (OSError, ValueError, ValidationError):
        found = "not a draft as this version writes it"
        raise InputError([Problem(Place(str(path)), "", found, hint=_PLAN)]) from None
    roster = read_roster(own_roster(folder))
    return draft, roster if draft.since_issue else _changing_nothing(roster)


def _changing_nothing(roster: Roster) -> Roster:
    """Take no price for what a draft changed of a roster that was never published."""
    parts = tuple(part for part in roster.objective if part.name != "changes")
    cost = sum(part.cost for part in parts)
    return roster.model_copy(update={"objective": parts, "cost": cost})


def _require_unchanged(folder: Path, draft: Draft, newest: Issue | None) -> None:
    """Refuse a draft that was planned from something else than there is now."""
    number, found = 0 if newest is None else newest.number, ""
    if draft.since_issue != number:
        found = f"planned before issue {number} was published"
    elif draft.input_digest != input_digest(folder):
        found = "planned before the site folder was changed"
    if found:
        place = Place(str(folder / "out" / DRAFT_NAME))
        raise InputError([Problem(place, "", found, hint=_PLAN)])


def _is_same(issue: Issue, draft: Draft, roster: Roster) -> bool:
    """Whether an issue is this very draft: published, but its files never came out."""
    return (
        draft.since_issue == issue.number - 1
        and draft.input_digest == issue.input_digest
        and roster.model_dump_json() == issue.roster
    )


def _so_far(store: Store, draft: Draft) -> SoFar | None:
    """Give what the draft had taken up."""
    if draft.from_at is None:
        return None
    return so_far_of(store, draft.from_at, draft.entries_up_to, draft.since_issue)


def _judged(folder: Path, roster: Roster, so_far: SoFar | None) -> Plan:
    """Hold a roster against its folder again, on the side that it was planned on."""
    options = PlanOptions(on_dry_side=roster.forecast_side == "dry")
    return judged(prepare(read_folder(folder), options, so_far=so_far), roster)


def _identities(
    made: Plan,
    known: tuple[VisitIdentity, ...],
    so_far: SoFar | None,
    number: int,
    at: datetime,
    new_id: Callable[[], str],
) -> tuple[VisitIdentity, ...]:
    """Say who each visit of the new issue is."""
    roster = made.roster
    words = entries_of(made.clocked.site_input.site, roster, made.report)
    done: set[str] = set()
    pinned: dict[str, str] = {}
    if so_far is not None:
        identity_of = {place: name for name, place in so_far.place_of.items()}
        begun = {
            identity_of[one.visit.id]: one
            for one in so_far.seen
            if one.visit.id in identity_of
            and one.visit.starts_at < so_far.at
            and not one.is_failed
        }
        done = {
            name
            for name, one in begun.items()
            if one.entry is not None and isinstance(one.entry.values, WorkDone)
        }
        pinned = pins({name: one.visit for name, one in begun.items()}, roster.visits)
    return follow(
        known,
        told_visits(roster, words),
        number,
        at,
        roster.horizon,
        new_id,
        done=done,
        pinned=pinned,
    )


def _handed(
    number: int,
    at: datetime,
    identities: tuple[VisitIdentity, ...],
    changes: ChangeList | None,
) -> Handed:
    return Handed(number, at, identities, shown_taken_back(identities, at), changes)


def _finished(folder: Path, store: Store, issue: Issue, draft: Draft) -> PublishedIssue:
    """Write the files of an issue that the ledger has already."""
    made = _judged(folder, roster_of(issue), _so_far(store, draft))
    identities, changes = store.visits(), None
    if issue.number > 1:
        before = visits_as_of(store, issue.number - 1)
        changes = change_list(before, identities, issue.number - 1)
    handed = _handed(issue.number, issue.published_at, identities, changes)
    return PublishedIssue(issue, handed, write(folder, made, handed))
