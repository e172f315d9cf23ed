"""Duties that a roster leaves undone, in words, by when they are due."""

from exports.text import one_line
from models.local_clock import LocalClock
from models.quantities import Instant
from models.records import Record, Roster


class Undone(Record):
    """A duty that nobody does, and what stands in the way."""

    task_id: str
    surface_id: str
    label: str
    duty: str
    due_at: Instant
    due: str
    words: str


def undone(roster: Roster) -> tuple[Undone, ...]:
    """Put every missed duty of a roster into words."""
    works = {work.surface_id: work for work in roster.surfaces}
    clock = LocalClock(roster.timezone)
    found = []
    for one in roster.missed:
        work = works[one.surface_id]
        task = next(task for task in work.tasks if task.id == one.task_id)
        due_at = roster.horizon.at(task.due_min)
        found.append(
            Undone(
                task_id=one.task_id,
                surface_id=one.surface_id,
                label=one_line(work.label),
                duty=one_line(task.full_title),
                due_at=due_at,
                due=clock.day_time(due_at),
                words=one_line(one.words),
            )
        )
    return tuple(sorted(found, key=lambda each: (each.due_at, each.task_id)))
