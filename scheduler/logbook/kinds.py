"""Which words belong to which sort of entry: the one table for commands and sheets."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from models.records import EntryKind

About = Literal["pour", "surface", "crew", "water", "site"]


@dataclass(frozen=True)
class KindRule:
    """What a sort of entry is about and what may be said with it.

    Attributes
    ----------
    about : str
        What it happens to; "site" for nothing in particular.
    needs, takes : tuple of str
        Columns that must be filled in, and those that may be.
    word : str
        The column that the third word of a command fills in.
    ahead : bool
        It may lie ahead: ``at`` is when it became known.
    once : bool
        It happens once to the same pour or surface.
    """

    about: About
    needs: tuple[str, ...] = ()
    takes: tuple[str, ...] = ()
    word: str = ""
    ahead: bool = False
    once: bool = False


_VISIT = ("work", "visit", "issue")
_WEATHER = ("temperature", "humidity", "wind", "solar", "cloud", "rain")
#: Every entry has these.
COMMON = ("what", "about", "at", "by", "note", "correct")
KINDS: Mapping[EntryKind, KindRule] = {
    "placing_started": KindRule("pour", once=True),
    "placing_finished": KindRule("pour", once=True),
    "slipped": KindRule("pour", needs=("to",), ahead=True),
    "cancelled": KindRule("pour", ahead=True, once=True),
    "takes_cover": KindRule("surface", once=True),
    "struck": KindRule("surface", once=True),
    "work_started": KindRule("surface", takes=_VISIT, word="work"),
    "work_done": KindRule(
        "surface", takes=(*_VISIT, "from", "found", "litres", "area"), word="work"
    ),
    "work_failed": KindRule("surface", takes=(*_VISIT, "why", "found"), word="work"),
    "found": KindRule(
        "surface",
        needs=("found",),
        takes=("litres", "area", "visit", "issue"),
        word="found",
    ),
    "weather_observed": KindRule("site", takes=_WEATHER),
    "crew_out": KindRule("crew", needs=("from",), takes=("to", "people"), ahead=True),
    "water_out": KindRule("water", needs=("from",), takes=("to",), ahead=True),
    "covers_taken": KindRule("surface", takes=("to", "area")),
    "reading": KindRule("surface", needs=("place", "temperature"), word="place"),
    "withdrawn": KindRule("site", needs=("correct",)),
}


def spoken(kind: str) -> str:
    """Say a sort of entry as it is typed: ``placing-started``."""
    return kind.replace("_", "-")
