"""``keepdamp tonight``: the coming night, read in fifteen seconds."""

from datetime import UTC, datetime
from typing import Annotated

import typer
from rich.table import Table
from rich.text import Text

from exports.breaches import breached
from exports.notices import PLANNING_AID, dry_gaps_words
from exports.text import one_line, shorten, shorten_label
from models.errors import InputError, Place, Problem
from models.files.published import own_roster, read_instant, read_roster
from models.files.site_folder import read_folder
from models.local_clock import LocalClock, ShortTimes
from models.quantities import Units, duration, show, show_share
from models.records import Horizon, OpenSurface, Tonight
from scheduler.cli import screen
from scheduler.cli.arguments import DrySide, Json, SiteFolder
from scheduler.cli.breaches import say_breaches
from scheduler.cli.ledgers import published_so_far
from scheduler.clocked import run_clocks
from scheduler.workflow import as_published
from scheduler.workflow import tonight as look_ahead

#: Of a name in a table; five columns of the surfaces then fit 100 signs.
_NAME_SIGNS = 30


def tonight(
    site: SiteFolder,
    at: Annotated[
        str,
        typer.Option(
            metavar="TIME",
            help='Start from this site time: "2027-05-14 17:00".',
            show_default="now",
        ),
    ] = "",
    on_dry_side: DrySide = False,
    as_json: Json = False,
) -> None:
    """Show open surfaces, their water and dry gaps until the next morning shift.

    The newest issue, or the draft where nothing was published, is simulated again on
    the folder as it is now and on what was written since: a newer forecast changes
    what is shown.
    """
    so_far = published_so_far(site)
    if so_far is None:
        roster, expected = read_roster(own_roster(site)), run_clocks(site)
    else:
        expected, roster = as_published(read_folder(site), so_far)
    here = expected.site_input.site
    now = read_instant(at, here.timezone, "--at") if at else datetime.now(UTC)
    _require_planned(now, roster.horizon, LocalClock(here.timezone))
    night = look_ahead(expected, roster, now, on_dry_side=on_dry_side)
    if as_json:
        screen.say_json(night.model_dump(mode="json"))
    else:
        labels = {work.surface_id: work.label for work in roster.surfaces}
        _say(night, labels, LocalClock(here.timezone), here.units)


def _require_planned(now: datetime, horizon: Horizon, clock: LocalClock) -> None:
    if horizon.starts_at <= now < horizon.ends_at:
        return
    first, last = clock.day_time(horizon.starts_at), clock.day_time(horizon.ends_at)
    raise InputError(
        [
            Problem(
                Place("tonight"),
                "--at",
                clock.day_time(now),
                f"a time in the planned week, {first} to {last}",
                "Name one with --at, or plan the week that is running",
            )
        ]
    )


def _say(
    night: Tonight, labels: dict[str, str], clock: LocalClock, units: Units
) -> None:
    times = ShortTimes(clock, night.from_at, night.until_at)
    off = f", {night.days_off} free day{'s'[: night.days_off != 1]} in between"
    screen.say(
        f"{night.site_name}, {clock.day(night.from_at)}: "
        f"{times.span(night.from_at, night.until_at)}"
        f"{off if night.days_off else ''}; {times.note}",
        "bold",
    )
    say_breaches(
        breached(
            night.breaches, labels, clock, units, night.from_at, night.until_at, times
        )
    )
    if night.gaps:
        dry_min = sum(gap.minutes for gap in night.gaps)
        screen.say(f"{dry_gaps_words(len(night.gaps), dry_min)}:", "bold")
        screen.say_table(_gaps(night, times))
    else:
        screen.say("No dry gap is planned, provided every visit is on time.")
    if night.surfaces:
        screen.say()
        screen.say_table(_surfaces(night, times, units))
    if night.sealed:
        need = "needs" if night.sealed == 1 else "need"
        screen.say(f"{night.sealed} more {need} no water: sealed or under blankets.")
    screen.say()
    screen.say_table(_crews(night, times))
    screen.say()
    screen.say_table(_water(night, units))
    screen.say(PLANNING_AID, "italic")


def _gaps(night: Tonight, times: ShortTimes) -> Table:
    """Put times on the left, what is dry beside them, what stands in the way below."""
    labels = {surface.surface_id: surface.label for surface in night.surfaces}
    table = Table(box=None, pad_edge=False, show_header=False)
    table.add_column(no_wrap=True)
    table.add_column()
    for gap in night.gaps:
        label = one_line(labels.get(gap.surface_id, gap.surface_id))
        table.add_row(
            times.span(gap.starts_at, gap.ends_at),
            Text(f"{label}: dry for {duration(gap.minutes)}"),
            style="bold",
        )
        for reason in gap.reasons:
            span = times.span(reason.starts_at, reason.ends_at)
            when = f"  {span}" if len(gap.reasons) > 1 else ""
            table.add_row(when, Text(one_line(reason.words)))
    return table


def _surfaces(night: Tonight, times: ShortTimes, units: Units) -> Table:
    table = Table(box=None, pad_edge=False)
    for heading in ("Surface", "Now", "Water left", "Lowest", "Next wetting"):
        table.add_column(heading)
    for surface in night.surfaces:
        table.add_row(
            Text(shorten_label(one_line(surface.label), surface.part, _NAME_SIGNS)),
            surface.state,
            _left(surface.reserve_l_m2, surface.reserve_fraction, units),
            _lowest(surface, times),
            times.day_time(surface.next_wet_at) if surface.next_wet_at else "none",
        )
    return table


def _lowest(surface: OpenSurface, times: ShortTimes) -> str:
    if surface.dry_min:
        return f"DRY for {duration(surface.dry_min)}"
    if surface.lowest_fraction is None or surface.lowest_at is None:
        return ""
    return f"{show_share(surface.lowest_fraction)}, {times.day_time(surface.lowest_at)}"


def _left(l_m2: float | None, fraction: float | None, units: Units) -> str:
    if l_m2 is None or fraction is None:
        return "no cover"
    return f"{show_share(fraction)}, {show('water per area', l_m2, units)}"


def _name(text: str) -> Text:
    """Cut a name so that one row stays one line; brackets in it are text."""
    return Text(shorten(one_line(text), _NAME_SIGNS))


def _crews(night: Tonight, times: ShortTimes) -> Table:
    table = Table(box=None, pad_edge=False)
    for heading in ("Crew", "People", "Lead", "From, to", "Visits", ""):
        table.add_column(heading)
    for crew in night.crews:
        table.add_row(
            _name(crew.name),
            str(crew.people),
            _name(" ".join(part for part in (crew.lead, crew.phone) if part)),
            times.span(crew.starts_at, crew.ends_at),
            str(crew.visits),
            "on call" if crew.on_call else "",
        )
    if not night.crews:
        table.add_row("nobody", "", "", "", "", "")
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
        drawn = show("volume", point.drawn_l, units)
        table.add_row(_name(point.name), "; ".join(left) or "mains", drawn)
    return table
