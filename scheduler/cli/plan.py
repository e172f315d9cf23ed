"""``keepdamp plan``: the planner's week, from the folder to everything handed out."""

from collections.abc import Iterator, Mapping
from dataclasses import asdict
from datetime import timedelta
from typing import Any

from rich.table import Table

from exports.breaches import breached, outside_words, surfaces_outside
from exports.notices import PLANNING_AID, dry_gaps_words, side_words
from exports.undone import undone
from exports.why import why_lines
from models.local_clock import LocalClock
from models.quantities import duration, show
from models.records import OBJECTIVE, Changes, Gap, Roster
from scheduler.cli import screen
from scheduler.cli.arguments import (
    DrySide,
    Json,
    PublishedRoster,
    Seconds,
    Seed,
    SiteFolder,
    StayNear,
    near_of,
)
from scheduler.cli.breaches import say_breaches
from scheduler.cli.ledgers import published_so_far
from scheduler.hand_out import HandedOut, hand_out
from scheduler.happened.carried import FromBefore
from scheduler.workflow import Plan, PlanOptions

#: Of a bad week; all of them are on the board.
_MOST_GAPS = 20


def plan(
    site: SiteFolder,
    seconds: Seconds = None,
    seed: Seed = 1,
    stay_near: StayNear = False,
    published: PublishedRoster = None,
    on_dry_side: DrySide = False,
    as_json: Json = False,
) -> None:
    """Plan the week and write roster, calendars, sheets, board and tables.

    It is a draft until it is published. Where the site has published a roster, what
    was written in its ledger is taken up and the plan stays near the newest issue.
    """
    near = near_of(site, stay_near, published)
    so_far = None if near is not None else published_so_far(site)
    options = PlanOptions(seconds, seed, on_dry_side, near)
    with screen.progress() as listener:
        handed = hand_out(site, options, listener, so_far)
    say_handed_out(handed, as_json=as_json)


def say_handed_out(handed: HandedOut, *, as_json: bool) -> None:
    """Say what was planned and where it was written."""
    made, written = handed.plan, handed.written
    if as_json:
        screen.say_json({**_summary(made), "written": [str(path) for path in written]})
        return
    _say(made)
    screen.say(
        f"\nWritten to {handed.out} as a draft: {len(written)} files; "
        f"open {handed.out / 'board.html'}; keepdamp publish makes it an issue"
    )
    screen.say(PLANNING_AID, "italic")


def _summary(made: Plan) -> dict[str, Any]:
    roster, report = made.roster, made.report
    return {
        "site": roster.site_name,
        "surfaces": len(roster.surfaces),
        "visits": len(roster.visits),
        "rewets": sum(1 for visit in roster.visits if _is_rewet(visit.task_id, made)),
        "forecast_side": roster.forecast_side,
        "breaches": [
            finding.model_dump(mode="json")
            for finding in report.findings
            if finding.breach is not None
        ],
        "dry_min": report.dry_min,
        "forecast_dry_min": report.forecast_dry_min,
        "gaps": [gap.model_dump(mode="json") for gap in roster.gaps],
        "missed": [one.model_dump(mode="json") for one in roster.missed],
        "cost": roster.cost,
        "unavoidable_dry_min": _unavoidable_min(made),
        "objective": [part.model_dump() for part in roster.objective],
        "dry_shares": [share.model_dump() for share in roster.dry_shares],
        "week_hours": [week.model_dump(mode="json") for week in made.report.week_hours],
        "warnings": [warning.model_dump(mode="json") for warning in made.warnings],
        **({"changes": made.changes.model_dump()} if made.changes else {}),
        **({"from_before": asdict(made.from_before)} if made.from_before else {}),
    }


def _unavoidable_min(made: Plan) -> int:
    """Dry minutes that no roster could spare, surface by surface."""
    return sum(floor.dry_min for floor in made.roster.floors)


def _is_rewet(task_id: str, made: Plan) -> bool:
    return any(
        work.rewet is not None and work.rewet.id == task_id
        for work in made.roster.surfaces
    )


def _say(made: Plan) -> None:
    roster, summary = made.roster, _summary(made)
    clock = LocalClock(roster.timezone)
    screen.say(
        f"{roster.site_name}, {clock.day(roster.horizon.starts_at)} to "
        f"{clock.day(roster.horizon.ends_at - timedelta(minutes=1))}",
        "bold",
    )
    labels = {work.surface_id: work.label for work in roster.surfaces}
    if made.from_before is not None:
        screen.say(from_before_words(made.from_before, labels))
    units = made.clocked.site_input.site.units
    from_at = roster.horizon.starts_at
    say_breaches(breached(made.report.findings, labels, clock, units, from_at))
    outside = outside_words(surfaces_outside(made.report.findings))
    screen.say(
        f"{summary['surfaces']} surfaces, {summary['visits']} visits, "
        f"{summary['rewets']} of them re-wettings; "
        f"{outside}{'; ' if outside else ''}"
        f"{dry_gaps_words(len(roster.gaps), made.report.dry_min)}."
    )
    if least := _unavoidable_min(made):
        screen.say(
            f"No roster can avoid {duration(least)} of that, even if each surface had "
            "every crew and all the water for itself."
        )
    if side := side_words(roster, made.report):
        screen.say(side)
    if made.changes is not None:
        screen.say(_changes_words(made.changes))
    screen.say_table(_objective(made))
    screen.say_table(_hours(made))
    if roster.gaps:
        screen.say("\nDry gaps", "bold")
    gaps = sorted(roster.gaps, key=lambda gap: (-gap.minutes, gap.starts_at))
    for gap in gaps[:_MOST_GAPS]:
        for line in gap_lines(gap, labels[gap.surface_id], clock):
            screen.say(f"  {line}")
    if len(gaps) > _MOST_GAPS:
        screen.say(f"  and {len(gaps) - _MOST_GAPS} more, none longer")
    left = undone(roster)
    if left:
        screen.say("\nWork left undone", "bold")
    for one in left:
        screen.say(f"  {one.label}: {one.duty}, due {one.due}; {one.words}")
    if made.warnings:
        screen.say("\nOther warnings", "bold")
    for warning in made.warnings:
        screen.say(f"  {warning.words}")


def from_before_words(before: FromBefore, labels: Mapping[str, str]) -> str:
    """Say which pours of an earlier week are curing still, the bare ones by name."""
    count, bare = len(before.pour_ids), before.bare_ids
    covers = "covers as written, or as planned where nobody wrote"
    if bare:
        named = ", ".join(labels.get(one, one) for one in bare)
        covers += f"; NO COVER was laid on {named}"
    return (
        f"From issue {before.issue_number}: {count} pour{'s'[: count != 1]} still "
        f"curing or under covers ({', '.join(before.pour_ids)}); {covers}."
    )


def _changes_words(changes: Changes) -> str:
    """Say what becomes of the published visits."""
    told = changes.kept + changes.moved + changes.other_crew + changes.dropped
    if not changes.total:
        return f"The published roster stands: all {told} visits are kept."
    words = (
        f"Of {told} published visits {changes.kept} are kept, {changes.moved} moved, "
        f"{changes.other_crew} given to another crew and {changes.dropped} dropped; "
        f"{changes.added} are added."
    )
    if changes.dropped and changes.added:
        words += " A re-wetting at another time is one dropped and one added."
    return words


def gap_lines(gap: Gap, label: str, clock: LocalClock) -> Iterator[str]:
    """Say where, when, how long, then what stands in the way, stretch by stretch."""
    span = clock.span(gap.starts_at, gap.ends_at)
    head = f"{label}: dry {span} ({duration(gap.minutes)})"
    lines = why_lines(gap, clock)
    if len(lines) == 1:
        yield f"{head}; {lines[0]}"
        return
    yield head
    yield from (f"  {line}" for line in lines)


def _objective(made: Plan) -> Table:
    table = Table(box=None, pad_edge=False)
    table.add_column("Where the cost comes from")
    table.add_column("Amount", justify="right")
    table.add_column("Cost", justify="right")
    units = made.clocked.site_input.site.units
    for part in made.roster.objective:
        amount = f"{part.amount:,.0f} {part.unit}"
        if part.name == "water":
            amount = show("volume", part.amount, units)
        elif part.name == "covers_short":
            amount = show("area", part.amount, units)
        table.add_row(OBJECTIVE[part.name].title, amount, f"{part.cost:,.0f}")
        if part.name == "dry":
            _add_shares(table, made.roster)
    table.add_row("Total", "", f"{made.roster.cost:,.0f}")
    return table


def _hours(made: Plan) -> Table:
    """Say what each gang works in a week, and what of it is not its shifts."""
    table = Table(box=None, pad_edge=False)
    table.add_column("Hours by gang and week")
    for name in ("Week from", "Worked", "Overtime", "Call-outs", "Paid"):
        table.add_column(name, justify="right")
    names = {crew.id: crew.name for crew in made.clocked.site_input.site.crews}
    for week in made.report.week_hours:
        called = f"{week.call_outs}, {week.call_out_min / 60:.1f} h"
        table.add_row(
            names[week.crew_id],
            f"{week.starts_on:%a} {week.starts_on.day} {week.starts_on:%b}",
            f"{week.worked_min / 60:.1f} h",
            f"{week.overtime_min / 60:.1f} h" if week.overtime_min else "",
            called if week.call_outs else "",
            f"{week.paid_min / 60:.1f} h",
        )
    return table


def _add_shares(table: Table, roster: Roster) -> None:
    """Say how old and how covered the dry minutes are, and on how much, a line each."""
    for share in roster.dry_shares:
        state = "bare" if share.bare else "under cover"
        table.add_row(
            f"  {state}, {share.age}",
            f"{share.minutes:,} min, {share.area_time_m2_h:,.0f} m² h",
            f"{share.cost:,.0f}",
        )
