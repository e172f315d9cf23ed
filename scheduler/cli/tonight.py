"""``keepdamp tonight``: what the coming night brings, in fifteen seconds' reading."""

from datetime import UTC, datetime
from typing import Annotated

import typer
from rich.table import Table

from exports.planning_aid import PLANNING_AID
from exports.wall_clock import WallClock, duration
from models.errors import InputError, Problem
from models.files.published import read_instant, read_roster
from models.quantities import Units, show
from models.records import Horizon, OpenSurface, Tonight
from scheduler.audit.tonight import tonight as look_ahead
from scheduler.cli import screen
from scheduler.cli.arguments import Json, SiteFolder
from scheduler.workflow import audit, run_clocks


def tonight(
    site: SiteFolder,
    at: Annotated[
        str,
        typer.Option(
            metavar="TIME",
            help='As if it were then, site time: "2027-05-14 17:00".',
            show_default="now",
        ),
    ] = "",
    as_json: Json = False,
) -> None:
    """Show open surfaces, their water and their gaps until the next morning shift.

    The planned roster is played through again on the folder as it is now, so a newer
    forecast changes what is shown.
    """
    roster = read_roster(site)
    clocked = run_clocks(site)
    here = clocked.site_input.site
    now = read_instant(at, here.timezone, "--at") if at else datetime.now(UTC)
    _require_planned(now, roster.horizon, WallClock(here.timezone))
    night = look_ahead(clocked.site_input, roster, audit(clocked, roster), now)
    if as_json:
        screen.say_json(night.model_dump(mode="json"))
    else:
        _say(night, WallClock(here.timezone), here.units)


def _require_planned(now: datetime, horizon: Horizon, clock: WallClock) -> None:
    if horizon.starts_at <= now < horizon.ends_at:
        return
    first, last = clock.day_time(horizon.starts_at), clock.day_time(horizon.ends_at)
    raise InputError(
        [
            Problem(
                "tonight",
                "--at",
                clock.day_time(now),
                f"a time in the planned week, {first} to {last}",
                "Name one with --at, or plan the week that is running",
            )
        ]
    )


def _say(night: Tonight, clock: WallClock, units: Units) -> None:
    off = f" ({night.days_off} free day{'s'[: night.days_off != 1]} in between)"
    screen.say(
        f"{night.site_name}: {clock.day_time(night.from_at)} to "
        f"{clock.day_time(night.until_at)}{off if night.days_off else ''}",
        "bold",
    )
    labels = {surface.surface_id: surface.label for surface in night.surfaces}
    if night.gaps:
        dry = sum(gap.minutes for gap in night.gaps)
        count = len(night.gaps)
        screen.say(f"{count} gap{'s'[: count != 1]}, {duration(dry)} dry:", "bold")
    else:
        screen.say("No surface runs dry, if every visit is done on time.", "bold")
    for gap in night.gaps:
        screen.say(
            f"  {labels.get(gap.surface_id, gap.surface_id)}: "
            f"{clock.span(gap.starts_at, gap.ends_at)} ({duration(gap.minutes)}); "
            f"{gap.words}"
        )
    if night.surfaces:
        screen.say_table(_surfaces(night, clock, units))
    if night.sealed:
        screen.say(f"{night.sealed} more need no water: sealed, or under blankets.")
    screen.say_table(_crews(night, clock))
    screen.say_table(_water(night, units))
    screen.say(PLANNING_AID, "italic")


def _surfaces(night: Tonight, clock: WallClock, units: Units) -> Table:
    table = Table(box=None, pad_edge=False)
    for heading in ("Surface", "Now", "Left now", "Lowest", "Next wetting"):
        table.add_column(heading)
    for surface in night.surfaces:
        table.add_row(
            surface.label,
            surface.state,
            _left(surface.reserve_l_m2, surface.reserve_fraction, units),
            _lowest(surface, clock, units),
            clock.day_time(surface.next_wet_at) if surface.next_wet_at else "none",
        )
    return table


def _lowest(surface: OpenSurface, clock: WallClock, units: Units) -> str:
    if surface.dry_min:
        return f"DRY for {duration(surface.dry_min)}"
    left = _left(surface.lowest_l_m2, surface.lowest_fraction, units)
    return f"{left} {clock.time(surface.lowest_at)}" if surface.lowest_at else left


def _left(l_m2: float | None, fraction: float | None, units: Units) -> str:
    if l_m2 is None or fraction is None:
        return "no cover"
    return f"{show('water per area', l_m2, units)} ({fraction:.0%})"


def _crews(night: Tonight, clock: WallClock) -> Table:
    table = Table(box=None, pad_edge=False)
    for heading in ("Who", "Lead", "From, to", "Visits"):
        table.add_column(heading)
    for crew in night.crews:
        called = " (on call)" if crew.on_call else ""
        table.add_row(
            f"{crew.name}, {crew.people}{called}",
            " ".join(part for part in (crew.lead, crew.phone) if part),
            clock.span(crew.starts_at, crew.ends_at),
            str(crew.visits),
        )
    if not night.crews:
        table.add_row("nobody", "", "", "")
    return table


def _water(night: Tonight, units: Units) -> Table:
    table = Table(box=None, pad_edge=False)
    for heading in ("Water", "At dusk", "Drawn tonight"):
        table.add_column(heading)
    for point in night.water:
        left = [
            f"{show('volume', amount, units)} {word}"
            for amount, word in (
                (point.level_l, "in the tank"),
                (point.allotment_left_l, "of the day's allotment"),
            )
            if amount is not None
        ]
        table.add_row(
            point.name, "; ".join(left) or "mains", show("volume", point.drawn_l, units)
        )
    return table
