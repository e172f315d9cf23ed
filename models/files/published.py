"""The roster that a site last planned, read back from its output folder."""

from datetime import datetime
from pathlib import Path

from pydantic import ValidationError

from models.errors import InputError, Problem
from models.files.gather import Gatherer
from models.files.local_time import LocalTime
from models.files.open_file import read_text
from models.files.refused import Refused
from models.records import Roster

_AGAIN = "Plan the site again: keepdamp plan"


def read_roster(site_folder: Path) -> Roster:
    """Read ``out/roster.json`` of a site folder.

    Raises
    ------
    InputError
        If there is none, or it was not written by this version.
    """
    path, name = site_folder / "out" / "roster.json", "out/roster.json"
    if not path.exists():
        raise InputError([Problem(name, "", "no roster", "a planned week", _AGAIN)])
    gather = Gatherer()
    text = read_text(path, gather, name)
    gather.raise_if_any()
    try:
        return Roster.model_validate_json(text or "")
    except ValidationError as error:
        first = error.errors()[0]
        field = ".".join(str(part) for part in first["loc"])
        wanted = "a roster as this version writes it"
        raise InputError(
            [Problem(name, field, "another shape", wanted, _AGAIN)]
        ) from None


def read_instant(text: str, timezone: str, place: str) -> datetime:
    """Read an instant a person typed, in the site's own clock time.

    Raises
    ------
    InputError
        With what is wanted instead.
    """
    try:
        return LocalTime(timezone).instant(text)
    except Refused as no:
        raise InputError([Problem(place, "", text, no.wanted, no.hint)]) from None
