"""Whether people can be where a plan sends them, and the hours that takes of them."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from models.records import CrewShift
from tests.bench.yard.facts import SiteFacts
from tests.bench.yard.rows import Row

BREAK_MOVES_MIN = 120  # a gang may take its break so much sooner or later
_LONG_AGO = -(1 << 40)


@dataclass(frozen=True)
class Gang:
    """A gang on one shift, and which of its members are in each of its parties."""

    shift: CrewShift
    members: dict[str, tuple[int, ...]]

    @property
    def closes_min(self) -> int:
        """End of its overtime; nobody stays on past a call-out."""
        over = 0 if self.shift.kind == "on_call" else self.shift.overtime_max_min
        return self.shift.ends_min + over


@dataclass
class Hours:
    """Worker-minutes of a plan by what they go into, and what it cannot have."""

    at_work: int = 0
    walked: int = 0
    paid: int = 0
    overtime: int = 0
    called_out: int = 0
    broken: list[str] = field(default_factory=list)

    @property
    def standing_by(self) -> int:
        """Paid for and neither at work nor walking."""
        return max(0, self.paid - self.at_work - self.walked)


def gangs(facts: SiteFacts) -> list[Gang]:
    """Give every gang's shifts and call-outs, in order of time."""
    parties: dict[str, list[CrewShift]] = defaultdict(list)
    for shift in facts.work.shifts:
        if shift.part_of:
            parties[shift.part_of].append(shift)
    found = []
    for shift in facts.work.shifts:
        if shift.part_of:
            continue
        members, first = {shift.crew_id: tuple(range(shift.people))}, 0
        own = {party.crew_id: party for party in parties[shift.id]}
        for name in shift.hands:
            if name in own:
                members[name] = tuple(range(first, first + own[name].people))
                first += own[name].people
        found.append(Gang(shift, members))
    return sorted(found, key=lambda gang: (gang.shift.starts_min, gang.shift.id))


@dataclass(frozen=True)
class _Person:
    """Where a member of a gang is, and since when."""

    free_min: int = _LONG_AGO
    zone_id: str = ""
    surface_id: str = ""
    shift_id: str = ""


def hours(facts: SiteFacts, rows: Sequence[Row]) -> Hours:
    """Send people to each row in order of time and count what it takes."""
    found, last = Hours(), dict[tuple[str, int], _Person]()
    worked: dict[str, list[Row]] = defaultdict(list)
    of_site = gangs(facts)
    own_breaks = [row for row in rows if row.action == "break"]
    for row in rows:
        if row.action == "break" or row.people == 0:
            continue
        at = facts.work.horizon.at(row.start_min)
        when = f"{at:%a %d %H:%M} UTC"
        gang = _gang(of_site, row)
        if gang is None:
            found.broken.append(f"outside the shift: {when} {row.words}")
            continue
        worked[gang.shift.id].append(row)
        for first, until in _pauses(gang, facts, own_breaks):
            if first < row.end_min and row.start_min < until:
                found.broken.append(f"in a break or ban: {when} {row.words}")
                break
        walk = _send(facts, gang, row, last)
        if walk is None:
            found.broken.append(f"people in two places: {when} {row.words}")
        found.walked += walk or 0
        found.at_work += row.people * (row.end_min - row.start_min)
    found.broken += _without_rest(facts, of_site, worked)
    _paid(facts, of_site, worked, found)
    return found


def _gang(of_site: Sequence[Gang], row: Row) -> Gang | None:
    """Find the shift of a row; overtime comes before a call-out of the same hours."""
    inside = [
        gang
        for gang in of_site
        if row.crew in gang.members
        and gang.shift.starts_min <= row.start_min
        and row.end_min <= gang.closes_min
    ]
    return max(inside, key=lambda gang: gang.shift.kind == "shift", default=None)


def _pauses(
    gang: Gang, facts: SiteFacts, own: Sequence[Row]
) -> Iterator[tuple[int, int]]:
    moved = [row for row in own if row.crew == gang.shift.crew_id]
    for pause in gang.shift.pauses:
        length = pause.until_min - pause.from_min
        instead = (
            (row.start_min, row.end_min)
            for row in moved
            if row.end_min - row.start_min >= length
            and abs(row.start_min - pause.from_min) <= BREAK_MOVES_MIN
        )
        yield next(instead, (pause.from_min, pause.until_min))
    yield from ((ban.from_min, ban.until_min) for ban in facts.work.heat_bans)


def _send(
    facts: SiteFacts, gang: Gang, row: Row, last: dict[tuple[str, int], _Person]
) -> int | None:
    """Send those who are nearest; minutes walked, or None if too few can be there."""
    work = facts.work
    zone = facts.surfaces[row.surface_id].work.zone_id
    ready = []
    for member in row.who or gang.members[row.crew]:
        person = last.get((gang.shift.crew_id, member), _Person())
        if person.shift_id != gang.shift.id:
            person = _Person(gang.shift.starts_min, gang.shift.home_zone)
        here = work.zone_ids.index(person.zone_id), work.zone_ids.index(zone)
        stays = person.surface_id == row.surface_id
        walk = 0 if stays else work.travel_min[here[0]][here[1]]
        ready.append((person.free_min + walk, walk, -person.free_min, member))
    able = sorted(
        (one for one in ready if one[0] <= row.start_min),
        key=lambda one: (one[1], one[2], one[3]),
    )
    for _, _, _, member in able[: row.people]:
        last[gang.shift.crew_id, member] = _Person(
            row.end_min, zone, row.surface_id, gang.shift.id
        )
    if len(able) < row.people:
        return None
    return sum(one[1] for one in able[: row.people])


def _without_rest(
    facts: SiteFacts, of_site: Sequence[Gang], worked: dict[str, list[Row]]
) -> Iterator[str]:
    """Find call-outs that come too soon after work."""
    for gang in of_site:
        mine = worked.get(gang.shift.id)
        if gang.shift.kind != "on_call" or not mine:
            continue
        ends = [
            row.end_min
            for other in of_site
            if other.shift.crew_id == gang.shift.crew_id and other is not gang
            for row in worked.get(other.shift.id, [])
            if row.end_min <= mine[0].start_min
        ]
        if ends and mine[0].start_min - max(ends) < facts.work.rest_min:
            yield f"no rest before a call-out: {gang.shift.id}"


def _paid(
    facts: SiteFacts,
    of_site: Sequence[Gang],
    worked: dict[str, list[Row]],
    found: Hours,
) -> None:
    for gang in of_site:
        shift, mine = gang.shift, worked.get(gang.shift.id, [])
        if shift.kind == "on_call":
            if mine:
                first = min(row.start_min for row in mine)
                away = shift.people * (max(row.end_min for row in mine) - first)
                found.paid, found.called_out = (
                    found.paid + away,
                    found.called_out + away,
                )
            continue
        first, until = max(0, shift.starts_min), min(shift.ends_min, facts.length_min)
        off = set[int]()
        for pause in (*shift.pauses, *facts.work.heat_bans):
            off.update(range(max(first, pause.from_min), min(until, pause.until_min)))
        beyond = sum(
            row.people * max(0, row.end_min - max(row.start_min, shift.ends_min))
            for row in mine
        )
        found.overtime += beyond
        found.paid += shift.people * max(0, until - first - len(off)) + beyond
