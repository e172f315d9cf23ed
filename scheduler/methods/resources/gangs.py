"""How many people the site can send, and for how long without a break."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from itertools import pairwise

from models.records import CrewShift, Skill, Stretch, Team
from scheduler.methods.resources.stretches import merge


@dataclass(frozen=True)
class Gangs:
    """The gangs of the site with their parties, and the hours in which they work.

    Attributes
    ----------
    walks_min : mapping
        Minutes from one zone to another.
    """

    teams: tuple[Team, ...]
    shifts: tuple[CrewShift, ...]
    heat_bans: tuple[Stretch, ...] = ()
    walks_min: Mapping[tuple[str, str], int] = field(default_factory=dict)

    def largest(self, skill: Skill) -> int:
        """People of the largest gang with a skill; 0 if nobody has it."""
        return max((t.people for t in self.teams if skill in t.skills), default=0)

    def smallest(self, skill: Skill) -> int:
        """People of the smallest gang or party with a skill; 0 if nobody has it.

        The odd one of a gang in pairs does not count: he can do less, and slower.
        """
        able = [team for team in self.teams if skill in team.skills]
        whole = [team for team in able if team.people > 1 or not team.by_default]
        return min((team.people for team in whole or able), default=0)

    def hands(self, skill: Skill, fewest: int, from_min: int, until_min: int) -> int:
        """People of the smallest gang or party at work in a stretch that has so many.

        Else of any; as many as are asked for where nobody has: the task is then told
        as missed.
        """
        there = (s.people for s in self._at_work(skill, from_min, until_min))
        of_any = (t.people for t in self.teams if skill in t.skills)
        for sizes in (there, of_any):
            if enough := [people for people in sizes if people >= fewest]:
                return min(enough)
        return fewest

    def on_shift(self, skill: Skill, from_min: int, until_min: int) -> int:
        """People of the largest gang at work in a stretch, else of any gang."""
        there = (s.people for s in self._at_work(skill, from_min, until_min))
        return max(there, default=self.largest(skill))

    def all_on_shift(self, skill: Skill, from_min: int, until_min: int) -> int:
        """People of all gangs at work in a stretch."""
        there = self._at_work(skill, from_min, until_min)
        return sum(shift.people for shift in there if not shift.part_of)

    def first_work_min(self) -> int:
        """First minute of the horizon in which a shift is at work; 0 without any."""
        starts = (
            s.starts_min for s in self.shifts if s.kind == "shift" and s.ends_min > 0
        )
        return max(0, min(starts, default=0))

    def _at_work(
        self, skill: Skill, from_min: int, until_min: int
    ) -> Iterator[CrewShift]:
        """Yield the shifts of gangs and parties with a skill that meet a stretch."""
        for shift in self.shifts:
            first = max(from_min, shift.starts_min)
            last = min(until_min, shift.ends_min)
            elsewhere = any(
                busy.from_min <= first and last <= busy.until_min for busy in shift.busy
            )
            there = first < last and not elsewhere
            if there and shift.kind == "shift" and skill in shift.skills:
                yield shift

    def longest_stretch_min(self, skill: Skill, people: int = 1) -> int:
        """Minutes of the longest stretch between breaks of a gang so large; 0 if none.

        Stretches on call count only where no shift would do.
        """
        able = [s for s in self.shifts if skill in s.skills and s.people >= people]
        worked = [shift for shift in able if shift.kind == "shift"]
        stretches = []
        for shift in worked or able:
            cuts = [(b.from_min, b.until_min) for b in self._pauses(shift)]
            edges = [(0, shift.starts_min), *cuts, (shift.ends_min, 0)]
            stretches += [later[0] - one[1] for one, later in pairwise(edges)]
        return max(stretches, default=0)

    def soonest_end_min(
        self, skill: Skill, people: int, zone_id: str, from_min: int, takes_min: int
    ) -> int | None:
        """Give the first minute at which work from a minute on can be over.

        Of whoever is so many on a shift, overtime included, and walks there as it
        begins; not in breaks, heat bans or other work, nor on call. None if nobody is.
        """
        return min(
            (
                start_min + takes_min
                for shift in self.shifts
                if shift.kind == "shift"
                and skill in shift.skills
                and shift.people >= people
                for free in self._free(shift, zone_id)
                if (start_min := max(from_min, free.from_min)) + takes_min
                <= free.until_min
            ),
            default=None,
        )

    def _free(self, shift: CrewShift, zone_id: str) -> Iterator[Stretch]:
        """Yield the stretches of a shift between its pauses, from the first walk on."""
        walk_min = self.walks_min.get((shift.home_zone, zone_id), 0)
        there_min = shift.starts_min + walk_min
        closes_min = shift.ends_min + shift.overtime_max_min
        pauses = merge((*shift.pauses, *self.heat_bans), shift.starts_min, closes_min)
        starts = (there_min, *(pause.until_min for pause in pauses))
        ends = (*(pause.from_min for pause in pauses), closes_min)
        for from_min, until_min in zip(starts, ends, strict=True):
            if max(from_min, there_min) < until_min:
                yield Stretch(from_min=max(from_min, there_min), until_min=until_min)

    def _pauses(self, shift: CrewShift) -> tuple[Stretch, ...]:
        """Join breaks, other work and heat bans of a shift where they overlap."""
        pauses = (*shift.pauses, *self.heat_bans)
        return merge(pauses, shift.starts_min, shift.ends_min)

    def cuts(self, skill: Skill, from_min: int, until_min: int) -> tuple[int, ...]:
        """Minutes at which a shift or break of skilled people begins or ends."""
        edges = {
            minute
            for s in self.shifts
            if skill in s.skills
            for stretch in (
                (s.starts_min, s.ends_min),
                *((b.from_min, b.until_min) for b in self._pauses(s)),
            )
            for minute in stretch
        }
        return tuple(sorted(m for m in edges if from_min < m < until_min))
