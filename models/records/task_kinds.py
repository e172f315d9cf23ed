"""Kinds of work, and all that is said of a kind in one place."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

TaskKind = Literal[
    "hold_point",
    "fog",
    "lay_cover",
    "soak_ahead",
    "soak",
    "rewet",
    "inspect",
    "loosen",
    "remove_cover",
    "mix_compound",
    "spray_compound",
    "check_coverage",
    "change_cover",
    "build_bund",
    "fill_pond",
    "top_up",
    "check_level",
    "drain",
    "wash",
    "commission",
    "shut_off",
    "keep_form_wet",
    "ease_forms",
    "read_temperature",
    "start_steam",
    "steam_watch",
    "end_steam",
]


@dataclass(frozen=True)
class KindFacts:
    """What is said of a kind of work.

    Attributes
    ----------
    verb : str
        In capitals, first in a title: what a glance must catch.
    doing : str
        The subject of a sentence: ``re-wetting takes 35 min``.
    alarms_min : tuple of int
        Minutes before the start at which a phone speaks up, longest first; common
        practice, no source: longer where things are fetched or soaked first, twice
        where lateness dries concrete.
    in_rounds : bool
        So short that several visits close by are one round.
    lays : bool
        With it a cover comes to lie.
    changes : bool
        With it one cover gives way to the next.
    lifts : bool
        It takes the last cover off.
    inspects : bool
        Somebody looks and reads; a pond's level and steam readings are inspections too.
    rewets : bool
        It gives a cover back the water that it has lost.
    uncovers : bool
        It takes away from a surface what keeps it damp.
    on_cover : bool
        It is done to a cover, or to a film, that must lie there.
    missed_as : str
        Which price of the site leaving it out has; "dryness" where only the dry
        minutes that follow price it.
    late : bool
        The minutes it ends late have a price; not where the work after it carries that.
    """

    verb: str
    doing: str
    alarms_min: tuple[int, ...]
    in_rounds: bool = False
    lays: bool = False
    changes: bool = False
    lifts: bool = False
    inspects: bool = False
    rewets: bool = False
    uncovers: bool = False
    on_cover: bool = False
    missed_as: Literal["work", "inspection", "dryness"] = "work"
    late: bool = True


def _inspection(verb: str, doing: str, *, in_rounds: bool = True) -> KindFacts:
    return KindFacts(
        verb,
        doing,
        (15,),
        in_rounds=in_rounds,
        inspects=True,
        on_cover=True,
        missed_as="inspection",
    )


TASK_KINDS: Mapping[TaskKind, KindFacts] = {
    "hold_point": KindFacts("HOLD POINT", "the pre-pour check", (15,)),
    "fog": KindFacts("FOG", "fogging", (10, 0), missed_as="dryness", late=False),
    "lay_cover": KindFacts("COVER", "laying the cover", (20, 0), lays=True),
    "soak_ahead": KindFacts(
        "INTO WATER",
        "putting covers into water",
        (60,),
        missed_as="dryness",
        late=False,
    ),
    "soak": KindFacts("SOAK", "the first soak", (60,), on_cover=True),
    "rewet": KindFacts(
        "RE-WET",
        "re-wetting",
        (20, 0),
        in_rounds=True,
        rewets=True,
        on_cover=True,
        missed_as="dryness",
        late=False,
    ),
    "inspect": _inspection("INSPECT", "the inspection"),
    "loosen": KindFacts(
        "LOOSEN", "loosening the cover", (60,), uncovers=True, on_cover=True
    ),
    "remove_cover": KindFacts(
        "UNCOVER",
        "lifting the cover",
        (60,),
        lifts=True,
        uncovers=True,
        on_cover=True,
    ),
    "mix_compound": KindFacts("MIX", "mixing the compound", (30,), late=False),
    "spray_compound": KindFacts("SPRAY", "spraying the compound", (30, 0), lays=True),
    "check_coverage": KindFacts(
        "CHECK SPRAY",
        "the coverage check",
        (15,),
        in_rounds=True,
        inspects=True,
        on_cover=True,
    ),
    "change_cover": KindFacts(
        "CHANGE COVER", "changing the cover", (60, 0), lays=True, changes=True
    ),
    "build_bund": KindFacts("BUND", "building the bund", (60,), late=False),
    "fill_pond": KindFacts(
        "FILL POND", "filling the pond", (30, 0), lays=True, changes=True
    ),
    "top_up": KindFacts(
        "TOP UP", "topping up the pond", (20, 0), rewets=True, on_cover=True
    ),
    "check_level": _inspection("CHECK LEVEL", "the level check"),
    "drain": KindFacts(
        "DRAIN", "draining the pond", (60,), uncovers=True, on_cover=True
    ),
    "wash": KindFacts("WASH", "washing off", (15,)),
    "commission": KindFacts("COMMISSION", "starting the timer", (60, 0)),
    "shut_off": KindFacts(
        "SHUT OFF", "shutting off the timer", (15,), uncovers=True, on_cover=True
    ),
    "keep_form_wet": KindFacts(
        "WET FORM", "wetting the forms", (20,), in_rounds=True, missed_as="inspection"
    ),
    "ease_forms": KindFacts(
        "EASE FORMS", "easing the forms", (30,), missed_as="inspection"
    ),
    "read_temperature": _inspection("READ TEMP", "the temperature reading"),
    "start_steam": KindFacts("STEAM ON", "starting the steam", (60, 0)),
    "steam_watch": _inspection("STEAM WATCH", "the steam watch", in_rounds=False),
    "end_steam": KindFacts("STEAM OFF", "ending the steam", (30,)),
}
