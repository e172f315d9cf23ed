"""Entries, and a small published week by hand, for tests of what has happened."""

from datetime import datetime, timedelta

from models.records import Entry, Happening, Roster, Visit
from tests.builders import MONDAY
from tests.scheduler.solver.solver_builders import duty, rewet, surface, work_list


def at(hours: float) -> datetime:
    """An instant of the week, hours after its start."""
    return MONDAY + timedelta(hours=hours)


def entry(number: int, about: str, hours: float, values: Happening) -> Entry:
    """Something that happened, written down at once."""
    return Entry(
        number=number, about=about, happened_at=at(hours), written_at=at(hours),
        by="AB", values=values,
    )  # fmt: skip


def visit(task_id: str, hours: float, number: int = 0, crew: str = "red") -> Visit:
    """Half an hour of a crew."""
    return Visit(
        id=f"{task_id}/{number}" if number else task_id, task_id=task_id,
        surface_id="S", crew_id=crew, shift_id=f"{crew}/day", starts_at=at(hours),
        ends_at=at(hours + 0.5),
    )  # fmt: skip


def published(*visits: Visit) -> Roster:
    """A roster of one surface with a look and re-wets, and these visits."""
    wet = rewet("S", duration_min=30)
    look = duty("S/look", duration_min=30, missed_cost=10)
    work = work_list(surface(tasks=(look,), rewet=wet), minutes=48 * 60)
    horizon = work.horizon.model_copy(update={"starts_at": MONDAY, "ends_at": at(48)})
    return Roster(
        site_name=work.site_name, timezone="UTC", horizon=horizon,
        surfaces=work.surfaces, visits=visits, objective=(), cost=0, seed=1,
        solver_words="by hand",
    )  # fmt: skip
