"""``keepdamp advise``: which curing method suits a surface here this week."""

from collections.abc import Sequence
from typing import Annotated

import typer
from rich.table import Table
from rich.text import Text

from exports.notices import PLANNING_AID
from models.errors import InputError, Place, Problem
from models.files.site_folder import read_site
from models.quantities import Units, duration, show
from models.records import Advice, Candidate, Supply
from scheduler.advice.flow import advise as advise_site
from scheduler.cli import screen
from scheduler.cli.arguments import Json, SiteFolder

#: Shown of each surface when all of the site is asked about.
_BEST = 3
_LEGEND = (
    "* planned. Each method is judged as if its surface were the only one.",
    "Cost: by the site's own prices, without walking. Outside: hours outside the",
    "method's weather limits or the rule's limits for the concrete. Day/night: the",
    "shortest time that one wetting lasts.",
    "Ranked by cost, rounded to the price of one missed inspection, each hour outside",
    "counting as one; ties by mix, visits, stock, effort and surface temperature.",
)
_SOLVED = (
    "Each is solved like a whole plan; differences in cost of less than about a fifth",
    "may come from the search and not from the method.",
)
_MORE = "Name a pour for figures, cautions and reasons."


def advise(
    site: SiteFolder,
    pour: Annotated[
        str,
        typer.Argument(
            metavar="[POUR]",
            help="A pour, or one of its surfaces: P1, P1-top, P1-faces.",
            show_default="the best of every surface",
        ),
    ] = "",
    solve: Annotated[
        bool,
        typer.Option(
            "--solve",
            help="Also plan the whole site with each of the best; needs POUR.",
        ),
    ] = False,
    as_json: Json = False,
) -> None:
    """Rank the curing methods of each surface by estimated cost on this site.

    Each method is tried on the forecast, with the site's own shifts and water, as if
    nothing else had to be done.
    """
    if solve and not pour:
        place = Place("advise")
        raise InputError([Problem(place, "--solve", "", "a POUR beside it")])
    with screen.progress() as listener:
        advice = advise_site(site, pour, solve=solve, listener=listener)
    if as_json:
        screen.say_json([one.model_dump(mode="json") for one in advice])
        return
    units = read_site(site).site.units
    for one in advice:
        _say(one, units, full=bool(pour))
    screen.say()
    for line in _LEGEND if pour else (_LEGEND[0], _MORE):
        screen.say(line)
    screen.say(PLANNING_AID, "italic")


def _say(advice: Advice, units: Units, *, full: bool) -> None:
    area = show("area", advice.area_m2, units)
    element = advice.element.replace("_", " ")
    screen.say(
        f"\n{advice.label}: {element}, {area}, {advice.exposure}, risk {advice.risk}",
        "bold",
    )
    if advice.settled:
        screen.say(f"It is {advice.settled}.")
    if full and advice.ranked:
        screen.say_table(_figures(advice, units))
        screen.say()
    shown = [c for c in advice.ranked if full or c.rank <= _BEST or c.planned]
    if shown:
        screen.say_table(_sentences(shown, full=full))
    if full and any(candidate.whole_site for candidate in advice.ranked):
        screen.say()
        screen.say_table(_whole_sites(advice))
        for line in _SOLVED:
            screen.say(line)
    if full and advice.refused:
        screen.say()
        screen.say_table(_refusals(advice))
    elif advice.refused:
        names = ", ".join(refusal.method for refusal in advice.refused)
        screen.say_table(_wrapped(f"Not suitable here: {names}"))
    if any(refusal.planned for refusal in advice.refused):
        screen.say(
            f"The planned method, {advice.planned}, is not suitable here.", "bold"
        )


def _figures(advice: Advice, units: Units) -> Table:
    """One row a method."""
    table = Table(box=None, pad_edge=False)
    table.add_column("")
    table.add_column("Method", no_wrap=True)
    for heading in (
        "Cost",
        "Dry",
        "Crew h",
        "Water",
        "Outside",
        "Day/night",
        "Hottest",
    ):
        table.add_column(heading, justify="right", no_wrap=True)
    table.add_column("Material")
    for candidate in advice.ranked:
        table.add_row(
            str(candidate.rank),
            _name(candidate),
            f"{candidate.cost:,.0f}",
            duration(candidate.dry_min),
            f"{candidate.crew_h:.1f}",
            show("volume", candidate.water_l, units),
            f"{candidate.outside_h + candidate.off_limits_h} h",
            _lasts(candidate),
            show("temperature", candidate.hottest_c, units),
            _put_on(candidate.supplies, units),
        )
    return table


def _sentences(candidates: list[Candidate], *, full: bool) -> Table:
    """Give a sentence a method; its cautions under it where one pour is asked about."""
    table = Table(box=None, pad_edge=False, show_header=False)
    table.add_column(justify="right")
    table.add_column(no_wrap=True)
    table.add_column()
    for candidate in candidates:
        name = Text(_name(candidate))
        table.add_row(str(candidate.rank), name, Text(candidate.words))
        if full:
            for change in candidate.changes:
                table.add_row("", "", Text(f"- then {change}"))
            for caution in candidate.cautions:
                table.add_row("", "", Text(f"- {caution}", style="dim"))
    return table


def _wrapped(words: str) -> Table:
    """Break a long line at the width of the screen."""
    table = Table(box=None, pad_edge=False, show_header=False)
    table.add_row(Text(words))
    return table


def _whole_sites(advice: Advice) -> Table:
    table = Table(box=None, pad_edge=False)
    table.add_column("With the whole site solved")
    for heading in ("Cost", "Dry, all surfaces", "Dry, this surface"):
        table.add_column(heading, justify="right")
    for candidate in advice.ranked:
        whole = candidate.whole_site
        if whole:
            table.add_row(
                _name(candidate),
                f"{whole.cost:,.0f}",
                duration(whole.dry_min),
                duration(whole.own_dry_min),
            )
    return table


def _refusals(advice: Advice) -> Table:
    table = Table(box=None, pad_edge=False)
    for heading in ("Not suitable here", "Reason", "Nearest suitable"):
        table.add_column(heading)
    for refusal in advice.refused:
        table.add_row(refusal.method, Text(refusal.reason), refusal.nearest or "none")
    return table


def _name(candidate: Candidate) -> str:
    return f"{candidate.method}{' *' if candidate.planned else ''}"


def _lasts(candidate: Candidate) -> str:
    """Give the hours that a wetting lasts at worst, by day and by night."""
    hours = (candidate.lasts_day_h, candidate.lasts_night_h)
    if hours == (None, None):
        return "-"
    both = ("-" if h is None else f"{h:.{int(h < 10)}f}" for h in hours)
    return f"{'/'.join(both)} h"


def _put_on(supplies: Sequence[Supply], units: Units) -> str:
    """Give amounts; with their names where there are several."""
    words = []
    for supply in supplies:
        amount = ""
        if supply.area_m2 is not None:
            amount = show("area", supply.area_m2, units)
        elif supply.volume_l is not None:
            amount = show("volume", supply.volume_l, units)
        name = supply.name if len(supplies) > 1 or not amount else ""
        words.append(f"{amount} {name}".strip())
    return "; ".join(words)
