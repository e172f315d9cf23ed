"""``keepdamp check``: read the site folder and say what is wrong with it."""

from dataclasses import asdict

import typer

from models.errors import InputError
from models.files.site_folder import read_site
from scheduler.cli import screen
from scheduler.cli.arguments import Json, SiteFolder


def check(site: SiteFolder, as_json: Json = False) -> None:
    """Read a site folder and list every problem in it."""
    try:
        found = read_site(site)
    except InputError as error:
        if not as_json:
            raise
        screen.say_json({"problems": [asdict(each) for each in error.problems]})
        raise typer.Exit(error.exit_code) from None
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
        screen.say_json({**summary, "problems": []})
        return
    screen.say(
        f"{found.site.name}: no problems. {len(found.pours)} pours, "
        f"{len(found.site.crews)} crews, {len(found.site.water_points)} water points, "
        f"{len(found.weather.hours)} hours of weather."
    )
