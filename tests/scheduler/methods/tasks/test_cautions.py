"""Every hazard is named somewhere, and every task names two."""

from collections.abc import Iterator
from typing import get_args

import pytest

from models.records import CoverStock, Task, TaskKind, WorkList
from scheduler.methods.tasks.cautions import HAZARDS
from tests.builders import pour, site_input
from tests.scheduler.methods.methods_builders import FOR_TOPS, hour, operated, work_of

#: Words that would say what only the engineer may.
FORBIDDEN = ("is safe", "safe to load", "safe to strike", "may be loaded", "may open")


@pytest.fixture(scope="module")
def week() -> WorkList:
    """A week with every kind of task, day and night, of every method."""
    wall = pour(
        "W", element="wall", area_m2=20, formed_area_m2=60, strike_at=hour(49),
        formed_method="burlap_double",
    )  # fmt: skip
    forms = pour(
        "F", element="wall", area_m2=20, formed_area_m2=60, strike_at=hour(49),
        formed_method="forms_in_place",
    )  # fmt: skip
    late = pour("N", placing_starts_at=hour(30), placing_ends_at=hour(36))
    every = (pour(f"M{i}", method=m, area_m2=90) for i, m in enumerate(FOR_TOPS))
    then = pour("T", then_method="compound_white", then_after="1 d")
    given = operated(site_input(pour("P1"), wall, forms, late, then, *every))
    owned = CoverStock(kind="burlap_double", stock_m2=900)
    site = given.site.model_copy(update={"covers": (owned,)})
    return work_of(
        given.model_copy(update={"site": site}),
        fog=((hour(5), hour(9)), (hour(36), hour(40))),
    )


def tasks(work: WorkList) -> Iterator[Task]:
    for surface in work.surfaces:
        yield from surface.tasks
        if surface.rewet:
            yield surface.rewet


def test_every_task_names_two_hazards(week: WorkList) -> None:
    for task in tasks(week):
        assert len(set(task.cautions)) == 2, task.id


def test_every_hazard_stands_on_some_task(week: WorkList) -> None:
    shown = {caution for task in tasks(week) for caution in task.cautions}
    assert shown == set(HAZARDS.values())


def test_every_kind_of_task_is_in_this_week(week: WorkList) -> None:
    """Else the checks beside this one would see less than they claim."""
    assert {task.kind for task in tasks(week)} == set(get_args(TaskKind))


def test_steps_are_few_and_short(week: WorkList) -> None:
    for task in tasks(week):
        most = 8 if task.kind == "hold_point" else 5  # the full list before placing
        assert 3 <= len(task.steps) <= most, task.id
        assert all(len(step) <= 85 for step in task.steps), task.id
        assert all(len(caution) <= 85 for caution in task.cautions), task.id
        assert len(task.title) <= 40, task.title


def test_every_task_says_what_to_bring_and_what_to_write_down(week: WorkList) -> None:
    for task in tasks(week):
        assert task.tools, task.id
        assert "initials" in task.log_fields or "who" in task.log_fields, task.id


def test_nothing_claims_that_concrete_is_safe(week: WorkList) -> None:
    for task in tasks(week):
        words = " ".join((task.title, *task.steps, *task.cautions)).lower()
        assert not any(claim in words for claim in FORBIDDEN), task.id
