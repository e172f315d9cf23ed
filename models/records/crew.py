"""Crews and the shift patterns they work."""

from collections.abc import Iterator
from datetime import date, time
from typing import Literal

from pydantic import Field, model_validator

from models.quantities import Instant
from models.records.base import Record, require_none

Weekday = Literal["mon", "tue", "wed", "thu", "fri", "sat", "sun"]
Skill = Literal["labourer", "fogger", "sprayer", "steam_operator"]


class Break(Record):
    """Paid or unpaid, nobody works in it; local clock times."""

    starts: time
    ends: time


class HeatBan(Record):
    """Hours of the day in which nobody works outdoors, between local clock times.

    Attributes
    ----------
    from_date, until_date : date or None
        First and last local day of it; None for as long as the plan reaches.
    above_c : float or None
        It holds only on days whose forecast goes above this air temperature in an hour
        that the ban touches; None for whatever weather. [°C]
    """

    starts: time
    ends: time
    from_date: date | None = None
    until_date: date | None = None
    above_c: float | None = Field(None, ge=-60, le=60)


class ShiftPattern(Record):
    """A shift by weekday; one that ends at or before its start crosses midnight.

    ``on_call`` makes it a stretch in which the crew may be called out, at the price
    of ``[costs] call_out``, instead of one it works anyway. ``breaks`` are those of the
    first gang that works the pattern; each other takes its own ``break_stagger_min``
    after the gang before it, in the order of the site's crews. Its parties go with it.
    """

    id: str
    days: tuple[Weekday, ...] = Field(min_length=1)
    starts: time
    ends: time
    breaks: tuple[Break, ...] = ()
    break_stagger_min: int = Field(0, ge=0, le=480)
    on_call: bool = False


class Busy(Record):
    """A stretch in which a gang or a party works at something else, and at what."""

    from_at: Instant
    until_at: Instant
    why: str = ""

    @model_validator(mode="after")
    def _ends_after_it_begins(self) -> "Busy":
        require_none(self._broken())
        return self

    def _broken(self) -> Iterator[tuple[str, str]]:
        if self.until_at <= self.from_at:
            yield "until_at", "a time after from"


class Party(Record):
    """Some people of a gang who may do a job of their own beside the others.

    Without ``skills`` they have those of the gang, without a ``lead`` its lead. A party
    ``by_default`` is whoever the lead sends: its work stands on the gang's sheets and
    in the gang's calendar.
    """

    id: str
    name: str
    people: int = Field(ge=1, le=50)
    skills: tuple[Skill, ...] = ()
    lead: str = ""
    phone: str = ""
    by_default: bool = False
    busy: tuple[Busy, ...] = ()


class Crew(Record):
    """A gang: it does one job at a time, or one each of its parties.

    ``shifts`` names patterns of ``[[shift]]``, worked or on call. A gang of three or
    more that names no parties works in pairs, unless it is to stay ``together``.
    """

    id: str
    name: str
    people: int = Field(ge=1, le=50)
    skills: tuple[Skill, ...] = ("labourer",)
    home_zone: str
    shifts: tuple[str, ...] = Field(min_length=1)
    overtime_max_min: int = Field(0, ge=0, le=240)
    lead: str = ""
    phone: str = ""
    together: bool = False
    parties: tuple[Party, ...] = ()
    busy: tuple[Busy, ...] = ()

    @property
    def hands(self) -> tuple[str, ...]:
        """Ids of who does one job at a time: its parties, or itself without any."""
        return tuple(party.id for party in self.parties) or (self.id,)


class Team(Crew):
    """Whoever a visit can be given to: a gang as a whole, or one of its parties.

    ``gang_id`` is the gang's, of a party too; ``party_name`` is empty for a gang.
    """

    gang_id: str
    party_name: str = ""
    by_default: bool = False

    @property
    def has_sheets(self) -> bool:
        """Whether it gets sheets of its own for its shifts."""
        if self.party_name:
            return not self.by_default
        return all(party.by_default for party in self.parties)

    def takes_in(self, other: "Team") -> bool:
        """Whether all of another team work in this one: itself, or a party's gang."""
        return set(other.hands) <= set(self.hands)

    def speaks_for(self, other: "Team") -> bool:
        """Whether its calendar tells what another does: its gang, its default pairs."""
        return other.takes_in(self) or (other.by_default and self.takes_in(other))
