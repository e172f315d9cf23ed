"""``keepdamp check``: say what is wrong with a site folder, all of it at once.

What its concrete will not stand in this weather is said as well.
"""

import typer

from exports.breaches import breached
from models.errors import InputError
from models.local_clock import LocalClock
from scheduler.cli import screen
from scheduler.cli.arguments import (
    DrySide,
    Json,
    PublishedRoster,
    SiteFolder,
    StayNear,
    near_of,
)
from scheduler.cli.breaches import say_breaches
from scheduler.cli.ledgers import published_so_far
from scheduler.cli.plan import from_before_words
from scheduler.hand_out import check as check_folder
from scheduler.workflow import PlanOptions, foreseen


def check(
    site: SiteFolder,
    stay_near: StayNear = False,
    published: PublishedRoster = None,
    on_dry_side: DrySide = False,
    as_json: Json = False,
) -> None:
    """List every problem for which a plan with the same options would be refused.

    Of a folder that can be planned, temperatures outside their limits are named.
    """
    near = near_of(site, stay_near, published)
    so_far = None if near is not None else published_so_far(site)
    options = PlanOptions(on_dry_side=on_dry_side, near=near)
    try:
        with screen.progress() as listener:
            checked = check_folder(site, options, listener, so_far)
    except InputError as error:
        if not as_json:
            raise
        screen.say_json({"problems": [each.facts() for each in error.problems]})
        raise typer.Exit(error.exit_code) from None
    found = checked.expected.site_input
    warnings = foreseen(checked)
    summary = {
        "site": found.site.name,
        "pours": len(found.pours),
        "crews": len(found.site.crews),
        "water_points": len(found.site.water_points),
        "weather_hours": len(found.weather.hours),
        "starts_at": found.horizon.starts_at.isoformat(),
        "ends_at": found.horizon.ends_at.isoformat(),
    }
    if as_json:
        breaches = [finding.model_dump(mode="json") for finding in warnings]
        screen.say_json({**summary, "problems": [], "breaches": breaches})
        return
    labels = {surface.id: surface.label for surface in checked.expected.surfaces}
    clock = LocalClock(found.site.timezone)
    say_breaches(
        breached(warnings, labels, clock, found.site.units, found.horizon.starts_at)
    )
    if checked.from_before is not None:
        screen.say(from_before_words(checked.from_before, labels))
    screen.say(
        f"{found.site.name} can be planned: {len(found.pours)} pours, "
        f"{len(found.site.crews)} crews, {len(found.site.water_points)} water points, "
        f"{len(found.weather.hours)} hours of weather."
    )
