"""What people must be told of each visit, apart from all else that its entry says.

What is told anew makes a phone speak up; the rest, as the water left in a cover, may
change with every forecast.
"""

from collections.abc import Iterable, Sequence
from hashlib import sha256

from exports.entry import Entry
from exports.rounds import rounds
from models.records import Roster, Task, Told, ToldVisit

#: What :class:`Told` holds, and what is a place in one roster and told to nobody.
_NOT_REST = {
    "visit_id", "shift_id", "crew_id", "crew_name", "title", "task_title", "place",
    "zone_name", "zone_words", "starts_at", "ends_at", "start_by_at", "late", "people",
    "minutes", "litres_l", "water_point_id", "water_point_name", "water_words",
    "draw_words",
}  # fmt: skip


def told_visits(roster: Roster, entries: Sequence[Entry]) -> tuple[ToldVisit, ...]:
    """Say of every visit of a roster what is to be told, in the order of the entries.

    Parameters
    ----------
    roster : Roster
        For the work that the visits are of.
    entries : sequence of Entry
        All of the roster.
    """
    tasks = {
        task.id: task
        for work in roster.surfaces
        for task in (*work.tasks, *((work.rewet,) if work.rewet else ()))
    }
    task_of = {visit.id: tasks[visit.task_id] for visit in roster.visits}
    lines = {each.first.visit_id: each.entries for each in rounds(entries)}

    def visit(entry: Entry) -> ToldVisit:
        task, own = task_of[entry.visit_id], lines.get(entry.visit_id, ())
        return ToldVisit(
            visit_id=entry.visit_id,
            surface_id=entry.surface_id,
            duty=f"{task.kind}: {task.title}",
            recurs=_recurs(task),
            told=told(entry),
            leads=bool(own),
            followers=tuple(told(each) for each in own[1:]),
            rest_hash=_rest_hash(own or (entry,)),
        )

    return tuple(visit(entry) for entry in entries)


def told(entry: Entry) -> Told:
    """Take out of an entry what must be told."""
    return Told(
        starts_at=entry.starts_at,
        ends_at=entry.ends_at,
        start_by_at=entry.start_by_at,
        crew_id=entry.crew_id,
        what=entry.title,
        place=entry.place,
        water=entry.water_words,
        people=entry.people,
    )


def _recurs(task: Task) -> bool:
    """Whether its like comes round again: wetting, fogging, looking."""
    return task.facts.rewets or task.facts.missed_as != "work"


def _rest_hash(entries: Iterable[Entry]) -> str:
    rest = "".join(entry.model_dump_json(exclude=_NOT_REST) for entry in entries)
    return sha256(rest.encode()).hexdigest()
