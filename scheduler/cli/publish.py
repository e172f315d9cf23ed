"""``keepdamp publish``: a draft gets its number and is told to the crews."""

from typing import Annotated
from uuid import uuid4

import typer

from exports.changes import crew_changes, heading, summary
from exports.notices import PLANNING_AID
from models.local_clock import LocalClock
from models.records import Site
from scheduler.cli import screen
from scheduler.cli.arguments import Json, SiteFolder
from scheduler.cli.ledgers import Now, ledger, now_of, site_of
from scheduler.publishing import PublishedIssue
from scheduler.publishing import publish as publish_draft


def publish(
    site: SiteFolder,
    note: Annotated[
        str, typer.Option(metavar="TEXT", help="Kept with the issue: why it changed.")
    ] = "",
    now: Now = "",
    as_json: Json = False,
) -> None:
    """Give the planned draft its issue number and write all that is handed out.

    Says crew by crew what has changed since the issue before.
    """
    here = site_of(site).site
    at = now_of(now, here.timezone)
    with ledger(site, here.name) as store:
        made = publish_draft(site, store, at, lambda: str(uuid4()), note)
    if as_json:
        screen.say_json(_summary(made))
        return
    _say(made, here)


def _summary(made: PublishedIssue) -> dict[str, object]:
    changes = made.handed.changes
    return {
        "issue": made.issue.number,
        "published_at": made.issue.published_at.isoformat(),
        "visits": len(made.out.plan.roster.visits),
        "changes": None if changes is None else changes.model_dump(mode="json"),
        "written": [str(path) for path in made.out.written],
    }


def _say(made: PublishedIssue, site: Site) -> None:
    clock, changes = LocalClock(site.timezone), made.handed.changes
    screen.say(f"{site.name}: {made.handed.words(clock)}", "bold")
    if changes is None:
        screen.say(f"{len(made.out.plan.roster.visits)} visits.")
    else:
        screen.say(f"{heading(changes)}: {summary(changes)}.")
        for crew in crew_changes(site, changes):
            screen.say(f"\n{crew.crew}", "bold")
            for line in crew.lines:
                screen.say(f"  {line.when}  {line.what}: {line.change}")
    screen.say(f"\nWritten to {made.out.out}: {len(made.out.written)} files")
    screen.say(PLANNING_AID, "italic")
