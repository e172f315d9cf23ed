"""What a folder lacks to go on from an issue, in words for the person who wrote it."""

from collections.abc import Iterable, Iterator
from datetime import datetime

from models.errors import Place, Problem
from models.files.reading.local_time import LocalTime
from models.files.site_folder import SiteFiles
from models.records import Pour, SiteInput
from models.wording import say
from scheduler.happened.so_far import SoFar


def other_site(so_far: SoFar, site_input: SiteInput) -> Problem:
    """Refuse a folder whose ledger is that of another site."""
    return Problem(
        site_input.places.of("site"),
        "name",
        say(site_input.site.name),
        f"{say(so_far.issue.site_name)}, the site of issue {so_far.issue_number}",
        "Name it as before, or take the ledger of the other site out of the folder",
    )


def lacks(so_far: SoFar, files: SiteFiles, pour: Pour) -> Iterator[Problem]:
    """Refuse a folder without something that a pour is made of."""
    if files.site_input is None:
        return
    site = files.site_input.site
    asked = (
        ("mix", pour.mix_id, [one.id for one in site.mixes]),
        ("zone", pour.zone_id, [one.id for one in site.zones]),
        ("profile", pour.profile, files.profiles.known_ids()),
    )
    for key, name, known in asked:
        if name is not None and name not in known:
            yield Problem(
                Place("site.toml"),
                key,
                f"no {key} {say(name)}",
                f"that of pour {pour.id}, which issue {so_far.issue_number} has curing "
                "still",
                "Keep it in the folder until curing is over",
            )


def strange_readings(so_far: SoFar, files: SiteFiles) -> Iterator[Problem]:
    """Refuse readings of surfaces that neither the folder nor the newest issue has."""
    known = {work.surface_id for work in so_far.issue.surfaces}
    for stray in files.strays:
        if stray.surface_id not in known:
            yield stray.problem


def no_hours(
    so_far: SoFar, files: SiteFiles, holes: Iterable[tuple[datetime, datetime]]
) -> Iterator[Problem]:
    """Name hours that neither the folder nor the ledger has."""
    local = LocalTime(so_far.issue.timezone)
    place = Place("weather.csv") if files.late is None else files.late.problem.place
    for from_at, until_at in holes:
        yield Problem(
            place,
            "time",
            f"no hours from {local.words(from_at)} to {local.words(until_at)}, nor has "
            f"issue {so_far.issue_number} any",
            hint="Add them, as measured or from an older forecast",
        )
