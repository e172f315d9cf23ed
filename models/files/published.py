"""The roster that a site last planned, read back from its output folder."""

from datetime import datetime
from pathlib import Path

from pydantic import ValidationError

from models.errors import InputError, Place, Problem
from models.files.formats.open_file import read_text
from models.files.reading.local_time import LocalTime
from models.files.reading.problems import ProblemCollector, ValueRefused
from models.records import Horizon, Roster, SiteInput
from models.wording import say

_AGAIN = "Plan the site again: keepdamp plan"
_AFRESH = "Plan afresh, without --stay-near, or name its roster with --published"


def own_roster(site_folder: Path) -> Path:
    """Where a site folder keeps its roster."""
    return site_folder / "out" / "roster.json"


def read_roster(path: Path, hint: str = _AGAIN) -> Roster:
    """Read a roster as :func:`own_roster` is one.

    Parameters
    ----------
    path : Path
        The file.
    hint : str
        What to do if there is none that can be read.

    Raises
    ------
    InputError
        If there is none, or it was not written by this version.
    """
    name = str(path)
    if not path.exists():
        raise InputError([Problem(Place(name), "", "roster not found", hint=hint)])
    problems = ProblemCollector()
    text = read_text(path, problems, name)
    problems.raise_if_any()
    try:
        return Roster.model_validate_json(text or "")
    except ValidationError as error:
        first = error.errors()[0]
        field = ".".join(str(part) for part in first["loc"])
        place, wanted = Place(name), "a roster as this version writes it"
        found = say(first["input"]) if field == "schema_id" else "another format"
        raise InputError([Problem(place, field, found, wanted, hint)]) from None


def read_published(path: Path, site_input: SiteInput) -> Roster:
    """Read the roster that a site has handed out, to stay near it.

    Raises
    ------
    InputError
        Besides, if it is of another site or has no day in common with the week.
    """
    roster, site, week = read_roster(path, _AFRESH), site_input.site, site_input.horizon
    local, problems = LocalTime(site.timezone), []

    def words(horizon: Horizon) -> str:
        first, last = local.words(horizon.starts_at), local.words(horizon.ends_at)
        return f"{first} to {last}"

    place = Place(str(path))
    if roster.site_name != site.name:
        found, wanted = say(roster.site_name), f"{say(site.name)}, as in the folder"
        problems.append(Problem(place, "site_name", found, wanted, _AFRESH))
    held = roster.horizon
    if held.ends_at <= week.starts_at or held.starts_at >= week.ends_at:
        wanted = f"a week that overlaps the one to plan, {words(week)}"
        problems.append(Problem(place, "horizon", words(held), wanted, _AFRESH))
    if problems:
        raise InputError(problems)
    return roster


def read_instant(text: str, timezone: str, place: str) -> datetime:
    """Read an instant that somebody typed, in the site's own clock time.

    Raises
    ------
    InputError
        With what is expected instead.
    """
    try:
        return LocalTime(timezone).instant(text)
    except ValueRefused as no:
        at = Place(place)
        raise InputError([Problem(at, "", say(text), no.wanted, no.hint)]) from None
