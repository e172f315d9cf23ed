"""Shifts as lanes, and which lanes share people.

A gang with parties has a lane for itself on every shift and one for each party; on
call it comes as a whole. The lanes of a gang on one shift are a gang shift. A work unit
(a party, or a gang without any) works in one lane of a gang shift at a time.

Plain ints of time are minutes from the start of the horizon; other plain ints are
indexes.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from models.records import CrewShift, HoursLimit, Stretch, Task


@dataclass(frozen=True, slots=True, eq=False)
class Lane:
    """A gang, or a party of one, on one shift or call-out.

    Attributes
    ----------
    work_units : tuple of int
        Who works in it.
    gang_shift : tuple of int
        Lanes of the gang and of its parties on that shift, itself among them.
    lanes_by_unit : tuple of tuple of int
        For each of its work units the lanes of the gang shift that it works in, the
        same ones once: stops in them come one after the other.
    sharing_people : tuple of int
        Lanes of the gang shift that share a work unit with it, itself among them.
    home : int
        Zone in which the shift begins.
    starts, ends, closes : int
        First minute, regular end, end of the longest overtime.
    breaks : tuple of (int, int)
        First minute and the one after, breaks, other work and heat bans joined, in
        order.
    """

    index: int
    shift: CrewShift
    work_units: tuple[int, ...]
    gang_shift: tuple[int, ...]
    lanes_by_unit: tuple[tuple[int, ...], ...]
    sharing_people: tuple[int, ...]
    home: int
    starts: int
    ends: int
    closes: int
    breaks: tuple[tuple[int, int], ...]
    call_out_cost: float


@dataclass(frozen=True, slots=True, eq=False)
class UnitLimit:
    """The most hours of a work unit in a week, on a day or in a call-out.

    Attributes
    ----------
    gang_shifts : tuple of tuple of int
        The unit's lanes that count, gang shift by gang shift.
    """

    record: HoursLimit
    gang_shifts: tuple[tuple[int, ...], ...]

    @property
    def left_min(self) -> int:
        """Minutes that it leaves for overtime and call-outs."""
        return self.record.left_min


def closes_min(shift: CrewShift) -> int:
    """Last minute of a shift, overtime included."""
    return shift.ends_min + shift.overtime_max_min


def units_of(shift: CrewShift) -> tuple[str, ...]:
    """Name the work units of a shift."""
    return shift.hands or (shift.crew_id,)


def unit_names(shifts: Iterable[CrewShift]) -> list[str]:
    """Name all work units, in the order of their numbers."""
    return sorted({unit for shift in shifts for unit in units_of(shift)})


def lanes_of(
    shifts: Sequence[CrewShift], zones: Mapping[str, int], heat_bans: Sequence[Stretch]
) -> tuple[Lane, ...]:
    """Make a lane of each shift, in their order, and find which share people."""
    number = {name: index for index, name in enumerate(unit_names(shifts))}
    gang_shifts: dict[str, list[int]] = defaultdict(list)
    for index, shift in enumerate(shifts):
        gang_shifts[shift.part_of or shift.id].append(index)
    lanes = []
    for index, shift in enumerate(shifts):
        gang_shift = gang_shifts[shift.part_of or shift.id]
        lanes_by_unit = dict.fromkeys(
            tuple(i for i in gang_shift if unit in units_of(shifts[i]))
            for unit in units_of(shift)
        )
        lanes.append(
            Lane(
                index=index,
                shift=shift,
                work_units=tuple(sorted(number[unit] for unit in units_of(shift))),
                gang_shift=tuple(gang_shift),
                lanes_by_unit=tuple(lanes_by_unit),
                sharing_people=tuple(sorted({i for own in lanes_by_unit for i in own})),
                home=zones[shift.home_zone],
                starts=shift.starts_min,
                ends=shift.ends_min,
                closes=closes_min(shift),
                breaks=_pauses(shift, heat_bans),
                call_out_cost=shift.call_out_cost if shift.kind == "on_call" else 0.0,
            )
        )
    return tuple(lanes)


def _pauses(
    shift: CrewShift, heat_bans: Iterable[Stretch]
) -> tuple[tuple[int, int], ...]:
    """Join breaks, other work and heat bans of a shift where they overlap."""
    met = [b for b in heat_bans if b.from_min < closes_min(shift)]
    met = [b for b in met if b.until_min > shift.starts_min]
    merged_stops: list[tuple[int, int]] = []
    for a, b in sorted((b.from_min, b.until_min) for b in (*shift.pauses, *met)):
        if merged_stops and a <= merged_stops[-1][1]:
            a, b = merged_stops[-1][0], max(b, merged_stops.pop()[1])
        merged_stops.append((a, b))
    return tuple(merged_stops)


def gang_shifts_of_unit(
    lanes: Sequence[Lane],
) -> tuple[tuple[tuple[int, ...], ...], ...]:
    """List each unit's lanes, gang shift by gang shift, in order of start."""
    found: dict[int, dict[tuple[int, ...], list[int]]] = defaultdict(dict)
    for lane in lanes:
        for unit in lane.work_units:
            found[unit].setdefault(lane.gang_shift, []).append(lane.index)
    return tuple(
        tuple(tuple(own) for own in found[unit].values()) for unit in sorted(found)
    )


def limits_of_unit(
    limits: Iterable[HoursLimit],
    names: Sequence[str],
    gang_shifts: Sequence[Sequence[tuple[int, ...]]],
    lanes: Sequence[Lane],
) -> tuple[tuple[UnitLimit, ...], ...]:
    """List the limits on each work unit's hours with its gang shifts in them."""

    def within(limit: HoursLimit, own: tuple[int, ...]) -> bool:
        return any(lanes[index].shift.id in limit.shift_ids for index in own)

    return tuple(
        tuple(
            UnitLimit(
                record=limit,
                gang_shifts=tuple(
                    own for own in gang_shifts[unit] if within(limit, own)
                ),
            )
            for limit in limits
            if limit.crew_id == name
        )
        for unit, name in enumerate(names)
    )


def suits(lane: Lane, task: Task) -> bool:
    """Whether a lane has the people and the skills for a task."""
    shift = lane.shift
    return shift.people >= task.people and set(task.skills) <= set(shift.skills)


def is_candidate(lane: Lane, task: Task, lanes: Sequence[Lane]) -> bool:
    """Whether a lane is one to ask for a task: a gang leaves to a party what it can do.

    The party takes as long and keeps fewer from other work.
    """
    others = (lanes[i] for i in lane.gang_shift if i != lane.index)
    return suits(lane, task) and not any(
        set(other.work_units) < set(lane.work_units) and suits(other, task)
        for other in others
    )
