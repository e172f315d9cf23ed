"""The people on a site as a foreman sees them: who is free, where, and for how long."""

from collections.abc import Sequence
from dataclasses import dataclass

from models.records import CrewShift, Stretch
from tests.bench.yard.facts import SiteFacts
from tests.bench.yard.people import BREAK_MOVES_MIN, Gang, gangs

_LONG_AGO = -(1 << 40)
_HALF_HOUR_MIN = 30


@dataclass
class Person:
    """A member of a gang on one shift."""

    gang: Gang
    member: int
    free_min: int
    zone_id: str
    surface_id: str = ""

    @property
    def shift(self) -> CrewShift:
        """The shift that is worked."""
        return self.gang.shift


class Crew:
    """Everybody, shift by shift."""

    def __init__(self, facts: SiteFacts) -> None:
        self.facts, self.work = facts, facts.work
        self.gangs = gangs(facts)
        self.called: set[str] = set()
        self.people = {
            gang.shift.id: [
                Person(gang, i, gang.shift.starts_min, gang.shift.home_zone)
                for i in range(gang.shift.people)
            ]
            for gang in self.gangs
        }
        self.moved: list[tuple[str, Stretch]] = []
        self.pauses = {gang.shift.id: self._pauses(gang) for gang in self.gangs}
        self.last_end: dict[str, int] = {}
        self.worked_over: dict[str, int] = {}

    def _pauses(self, gang: Gang) -> list[Stretch]:
        """Give bans and breaks; a break beside a ban is taken in it."""
        found = list(self.work.heat_bans)
        for pause in gang.shift.pauses:
            length = pause.until_min - pause.from_min
            taken = pause
            for ban in self.work.heat_bans:
                start = min(max(pause.from_min, ban.from_min), ban.until_min - length)
                fits = ban.from_min <= start and gang.shift.starts_min <= start
                if fits and abs(start - pause.from_min) <= BREAK_MOVES_MIN:
                    taken = Stretch(from_min=start, until_min=start + length)
            if taken != pause:
                self.moved.append((gang.shift.crew_id, taken))
            found.append(taken)
        return sorted(found, key=lambda one: one.from_min)

    def on(self, minute: int) -> list[Person]:
        """Those who are there, overtime not counted, and free."""
        return [
            person
            for gang in self.gangs
            if self._there(gang, minute)
            for person in self.people[gang.shift.id]
            if person.free_min <= minute
        ]

    def _there(self, gang: Gang, minute: int) -> bool:
        shift = gang.shift
        if shift.kind == "on_call" and shift.id not in self.called:
            return False
        later = (g.shift for g in self.gangs if g.shift.id in self.called)
        if any(
            call.crew_id == shift.crew_id
            and shift.starts_min < call.starts_min <= minute
            for call in later
        ):
            return False  # it went home before it was called out
        return shift.starts_min <= minute < gang.closes_min

    def arrives_min(self, person: Person, surface_id: str, minute: int) -> int:
        """When somebody can begin at a surface."""
        zones, of = self.work.zone_ids, self.facts.surfaces[surface_id].work
        here, there = zones.index(person.zone_id), zones.index(of.zone_id)
        stays = person.surface_id == surface_id
        walk = 0 if stays else self.work.travel_min[here][there]
        return max(minute, person.free_min + walk)

    def until_min(self, gang: Gang, minute: int, *, overtime: bool) -> int:
        """Next break, ban or end of the shift of a gang; the minute itself in one."""
        ends = gang.shift.ends_min
        if overtime and self._over_left(gang) >= gang.closes_min - ends:
            ends = gang.closes_min
        for pause in self.pauses[gang.shift.id]:
            if pause.from_min <= minute < pause.until_min:
                return minute
            if pause.from_min > minute:
                ends = min(ends, pause.from_min)
        return max(minute, ends)

    def _over_left(self, gang: Gang) -> int:
        """What weeks and days still leave; taken by all shifts of the gang in them."""
        return min(
            (
                limit.left_min
                - sum(self.worked_over.get(name, 0) for name in limit.shift_ids)
                for limit in self.work.hours_limits
                if limit.crew_id in gang.members and gang.shift.id in limit.shift_ids
            ),
            default=1 << 40,
        )

    def send(self, people: Sequence[Person], surface_id: str, end_min: int) -> None:
        """Let people be at a surface until a minute."""
        zone = self.facts.surfaces[surface_id].work.zone_id
        for person in people:
            person.free_min, person.zone_id = end_min, zone
            person.surface_id = surface_id
            shift = person.shift
            crew = shift.crew_id
            self.last_end[crew] = max(self.last_end.get(crew, _LONG_AGO), end_min)
            over = max(0, end_min - shift.ends_min)
            if shift.kind == "on_call":
                over = end_min - shift.starts_min
            self.worked_over[shift.id] = max(self.worked_over.get(shift.id, 0), over)

    def call(self, gang: Gang, minute: int) -> bool:
        """Call a gang out, if its rest and its week allow it."""
        rested = self.last_end.get(gang.shift.crew_id, _LONG_AGO) + self.work.rest_min
        length = gang.shift.ends_min - max(gang.shift.starts_min, rested)
        if length < _HALF_HOUR_MIN or self._over_left(gang) < length:
            return False
        self.called.add(gang.shift.id)
        for person in self.people[gang.shift.id]:
            person.free_min = max(minute, rested, gang.shift.starts_min)
        return True

    def manned_again_min(self, minute: int) -> tuple[int, int]:
        """When the people of now go home with nobody after them, and who comes next."""
        ends, shifts = minute, [g.shift for g in self.gangs if self._regular(g)]
        for shift in sorted(shifts, key=lambda one: one.starts_min):
            if shift.starts_min <= ends + _HALF_HOUR_MIN:
                ends = max(ends, shift.ends_min)
        after = [s.starts_min for s in shifts if s.starts_min > ends]
        return ends, min(after, default=self.facts.length_min)

    def _regular(self, gang: Gang) -> bool:
        return gang.shift.kind == "shift" or gang.shift.id in self.called
