"""Shifts as lanes, and whose hands work in them.

A gang with parties has a lane for itself on every shift and one for each party; on
call it comes as a whole. Lanes of a shift are a turn. A hand (a party, or a gang
without any) works in one lane of a turn at a time.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from models.records import CrewShift, CrewWeek, Stretch, Task


@dataclass(frozen=True, slots=True, eq=False)
class Lane:
    """A gang, or a party of one, on one shift or call-out.

    Attributes
    ----------
    hands : tuple of int
        Whose hands work in it.
    turn : tuple of int
        Lanes of the gang and of its parties on that shift, itself among them.
    by_hand : tuple of tuple of int
        For each of its hands the lanes of the turn that it works in, alike ones once:
        stops in them come one after the other.
    beside : tuple of int
        Lanes of the turn that it shares a hand with, itself among them.
    """

    index: int
    shift: CrewShift
    hands: tuple[int, ...]
    turn: tuple[int, ...]
    by_hand: tuple[tuple[int, ...], ...]
    beside: tuple[int, ...]
    home: int
    starts: int
    ends: int
    closes: int
    breaks: tuple[tuple[int, int], ...]
    call_out_cost: float


@dataclass(frozen=True, slots=True, eq=False)
class Week:
    """A hand's calendar week: its turns, and the minutes left beyond its shifts."""

    record: CrewWeek
    turns: tuple[tuple[int, ...], ...]
    left: int


def closes_min(shift: CrewShift) -> int:
    """Last minute of a shift, overtime included."""
    return shift.ends_min + shift.overtime_max_min


def hands_of(shift: CrewShift) -> tuple[str, ...]:
    """Name the hands that work in a shift."""
    return shift.hands or (shift.crew_id,)


def hand_names(shifts: Iterable[CrewShift]) -> list[str]:
    """Name all hands, in the order of their numbers."""
    return sorted({hand for shift in shifts for hand in hands_of(shift)})


def lanes_of(
    shifts: Sequence[CrewShift], zones: Mapping[str, int], heat_bans: Sequence[Stretch]
) -> tuple[Lane, ...]:
    """Make a lane of each shift, in their order, and find what shares hands."""
    number = {name: index for index, name in enumerate(hand_names(shifts))}
    turns: dict[str, list[int]] = defaultdict(list)
    for index, shift in enumerate(shifts):
        turns[shift.part_of or shift.id].append(index)
    lanes = []
    for index, shift in enumerate(shifts):
        turn = turns[shift.part_of or shift.id]
        by_hand = dict.fromkeys(
            tuple(i for i in turn if hand in hands_of(shifts[i]))
            for hand in hands_of(shift)
        )
        lanes.append(
            Lane(
                index=index,
                shift=shift,
                hands=tuple(sorted(number[hand] for hand in hands_of(shift))),
                turn=tuple(turn),
                by_hand=tuple(by_hand),
                beside=tuple(sorted({i for own in by_hand for i in own})),
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
    """Join the breaks and heat bans of a shift where they overlap."""
    met = [b for b in heat_bans if b.from_min < closes_min(shift)]
    met = [b for b in met if b.until_min > shift.starts_min]
    merged: list[tuple[int, int]] = []
    for a, b in sorted((b.from_min, b.until_min) for b in (*shift.breaks, *met)):
        if merged and a <= merged[-1][1]:
            a, b = merged[-1][0], max(b, merged.pop()[1])
        merged.append((a, b))
    return tuple(merged)


def turns_of_hand(
    lanes: Sequence[Lane],
) -> tuple[tuple[tuple[int, ...], ...], ...]:
    """List for each hand its lanes, turn by turn, in order of start."""
    found: dict[int, dict[tuple[int, ...], list[int]]] = defaultdict(dict)
    for lane in lanes:
        for hand in lane.hands:
            found[hand].setdefault(lane.turn, []).append(lane.index)
    return tuple(
        tuple(tuple(own) for own in found[hand].values()) for hand in sorted(found)
    )


def weeks_of_hand(
    weeks: Iterable[CrewWeek],
    names: Sequence[str],
    turns: Sequence[Sequence[tuple[int, ...]]],
    lanes: Sequence[Lane],
) -> tuple[tuple[Week, ...], ...]:
    """List the limited weeks of each hand with its turns in them."""

    def within(week: CrewWeek, own: tuple[int, ...]) -> bool:
        return any(lanes[index].shift.id in week.shift_ids for index in own)

    return tuple(
        tuple(
            Week(
                record=week,
                turns=tuple(own for own in turns[hand] if within(week, own)),
                left=max(0, week.most_min - week.regular_min),
            )
            for week in weeks
            if week.crew_id == name
        )
        for hand, name in enumerate(names)
    )


def suits(lane: Lane, task: Task) -> bool:
    """Whether a lane has the people and the skills for a task."""
    shift = lane.shift
    return shift.people >= task.people and set(task.skills) <= set(shift.skills)


def is_asked(lane: Lane, task: Task, lanes: Sequence[Lane]) -> bool:
    """Whether a lane is one to ask for a task: a gang leaves to a party what it can do.

    The party takes as long and keeps fewer from other work.
    """
    others = (lanes[i] for i in lane.turn if i != lane.index)
    return suits(lane, task) and not any(
        set(other.hands) < set(lane.hands) and suits(other, task) for other in others
    )
