"""A foreman's book: who is sent where, with the water and the share that it makes."""

from collections import defaultdict
from collections.abc import Sequence
from math import ceil

from tests.bench.dispatcher import Tap
from tests.bench.pencil.crew import Crew, Person
from tests.bench.pencil.spots import Spot, Stock
from tests.bench.yard.facts import FOG_M2, NOZZLE_L_MIN, SET_UP_MIN, Action, SiteFacts
from tests.bench.yard.order import SOAK_AHEAD_MIN_M2
from tests.bench.yard.people import Gang
from tests.bench.yard.rows import Row

_RESUME_MIN = 70
_LEAST_WORK_MIN = 3
_LEAST_SHARE = 0.004


class Book:
    """Rows as they are written, and what they leave of people, water and covers."""

    def __init__(self, facts: SiteFacts) -> None:
        self.facts, self.crew, self.stock = facts, Crew(facts), Stock(facts)
        length = facts.length_min + 24 * 60
        self.taps = {supply.id: Tap(supply, length) for supply in facts.work.supplies}
        self.spots = {sid: Spot(of) for sid, of in facts.surfaces.items()}
        for spot in self.spots.values():
            spot.begin(facts.length_min)
        self.rows: list[Row] = [
            Row(crew, 0, span.from_min, span.until_min, "", "break")
            for crew, span in self.crew.moved
        ]
        self._ends: dict[tuple[str, str, str], list[int]] = defaultdict(list)

    def free(
        self, spot: Spot, minute: int, skill: str, *, overtime: bool = False
    ) -> list[tuple[Gang, list[Person]]]:
        """Give the free hands of each gang that may begin there soon, most first."""
        teams: dict[str, list[Person]] = defaultdict(list)
        for person in self.crew.on(minute):
            until = self.crew.until_min(person.gang, minute, overtime=overtime)
            arrives = self.crew.arrives_min(person, spot.id, minute)
            if skill in person.shift.skills and arrives + _LEAST_WORK_MIN < until:
                teams[person.shift.id].append(person)
        for people in teams.values():
            people.sort(
                key=lambda p: (self.crew.arrives_min(p, spot.id, minute), p.member)
            )
        ranked = sorted(teams.values(), key=lambda ps: (-len(ps), ps[0].shift.id))
        return [(people[0].gang, people) for people in ranked]

    def send(
        self,
        spot: Spot,
        action: Action,
        people: Sequence[Person],
        minute: int,
        chunk_min: int,
        wanted: float = 1.0,
        *,
        overtime: bool = False,
    ) -> Row | None:
        """Send people to do as much of an action as they can until they are stopped."""
        job, gang = spot.facts.jobs[action], people[0].gang
        start = max(self.crew.arrives_min(p, spot.id, minute) for p in people)
        set_up = self._set_up_min(gang, action, spot, start)
        until = self.crew.until_min(gang, start, overtime=overtime)
        end = min(start + chunk_min, until)
        if job.fixed_min:
            share, end = wanted, start + job.fixed_min
            if end > until:
                return None
            return self._write(spot, action, people, start, end, share, set_up)
        work_min = end - start - set_up
        if work_min < min(_LEAST_WORK_MIN, chunk_min):
            return None
        points = self._points(spot) if job.litres_l_m2 else ("",)
        for point in points:
            per_whole = job.per_m2_min * spot.area_m2 / len(people)
            if point:
                flow = self.facts.flow_l_min(len(people), point)
                per_whole = max(per_whole, job.litres_l_m2 * spot.area_m2 / flow)
            per_whole = max(per_whole, 1.0)
            share = min(wanted, work_min / per_whole)
            if share < min(wanted, _LEAST_SHARE):
                continue
            done = start + set_up + max(1, ceil(round(share * per_whole, 3) - 0.02))
            litres = job.litres_l_m2 * share * spot.area_m2
            if point and not self._draw(point, start + set_up, done, litres):
                continue
            return self._write(
                spot, action, people, start, done, share, set_up, point, litres
            )
        return None

    def fog(
        self, spot: Spot, people: Sequence[Person], minute: int, chunk_min: int
    ) -> Row | None:
        """Let people keep what is bare wet, from the end that is laid last."""
        gang = people[0].gang
        start = max(self.crew.arrives_min(p, spot.id, minute) for p in people)
        end = min(start + chunk_min, self.crew.until_min(gang, start, overtime=False))
        share = min(spot.rest, len(people) * FOG_M2 / spot.area_m2)
        if end - start < _LEAST_WORK_MIN or share <= 0:
            return None
        nozzles = min(len(people), ceil(share * spot.area_m2 / FOG_M2))
        litres = NOZZLE_L_MIN * (end - start) * nozzles
        for point in self._points(spot):
            if self._draw(point, start, end, litres):
                spot.fogged.append((end, len(people)))
                return self._write(
                    spot, "fog", people, start, end, share, 0, point, litres
                )
        return None

    def soak_ahead(
        self, spot: Spot, person: Person, minute: int, area_m2: float, kind: str
    ) -> Row | None:
        """Let somebody put cloth into water."""
        start = self.crew.arrives_min(person, spot.id, minute)
        end = start + SET_UP_MIN + ceil(SOAK_AHEAD_MIN_M2 * area_m2)
        if end > self.crew.until_min(person.gang, start, overtime=False):
            return None
        share = area_m2 / spot.area_m2
        return self._write(
            spot, "soak_ahead", (person,), start, end, share, SET_UP_MIN, task=kind
        )

    def special(
        self,
        spot: Spot,
        name: str,
        people: Sequence[Person],
        minute: int,
        length_min: int,
        litres_l: float,
    ) -> Row | None:
        """Let people do work that has no action of its own, whole."""
        start = max(self.crew.arrives_min(p, spot.id, minute) for p in people)
        end = start + length_min
        if end > self.crew.until_min(people[0].gang, start, overtime=False):
            return None
        for point in self._points(spot) if litres_l else ("",):
            if not point or self._draw(point, start + SET_UP_MIN, end, litres_l):
                return self._write(
                    spot, "other", people, start, end, 1.0, SET_UP_MIN, point, litres_l,
                    name,
                )  # fmt: skip
        return None

    def _points(self, spot: Spot) -> tuple[str, ...]:
        return self.facts.work.water_points[spot.facts.work.zone_id]

    def _draw(self, point: str, first: int, until: int, litres_l: float) -> bool:
        if until <= first:
            return False
        return self.taps[point].draw(first, until, litres_l / (until - first))

    def _set_up_min(self, gang: Gang, action: str, spot: Spot, start: int) -> int:
        ends = self._ends[gang.shift.crew_id, action, spot.id]
        goes_on = any(0 <= start - end <= _RESUME_MIN for end in ends)
        return 0 if goes_on else SET_UP_MIN

    def _write(
        self,
        spot: Spot,
        action: Action,
        people: Sequence[Person],
        start: int,
        end: int,
        share: float,
        set_up: int,
        point: str = "",
        litres_l: float = 0.0,
        task: str = "",
    ) -> Row:
        shift = people[0].shift
        row = Row(
            crew=shift.crew_id, people=len(people), start_min=start, end_min=end,
            surface_id=spot.id, action=action, share=share, point=point,
            litres_l=litres_l, task=task, who=tuple(sorted(p.member for p in people)),
            set_up_min=set_up,
        )  # fmt: skip
        self.rows.append(row)
        self._ends[shift.crew_id, action, spot.id].append(end)
        self.crew.send(people, spot.id, end)
        spot.share[action] += share
        spot.ended_min[action] = max(spot.ended_min[action], end)
        return row
