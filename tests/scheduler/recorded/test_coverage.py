"""Compound: litres over area against what the method asks."""

from functools import cache

import pytest

from exports.record.curing_record import Section
from models.records import Entry, Roster, SiteInput, WorkDone
from scheduler.recorded.assemble import words_of
from scheduler.recorded.coverage import coverage_section
from scheduler.recorded.missing import missing_of
from tests.scheduler.recorded.recorded_builders import (
    TOP,
    at,
    entry,
    given,
    life,
    life_in,
    roster,
    visit,
    work_of,
)

AREA_M2 = 300.0


@cache
def sprayed() -> tuple[SiteInput, Roster]:
    """A slab of Monday 07:00 to 11:00, its two coats at 13:00 and 15:00."""
    base = given(
        placing_starts_at=at(1), placing_ends_at=at(5), covered_at=None,
        wetted_at=None, method="compound_white",
    )  # fmt: skip
    (own,) = work_of(base).surfaces
    coats = [task for task in own.tasks if task.kind == "spray_compound"]
    visits = [visit(task, 0, at(7 + 2 * n)) for n, task in enumerate(coats)]
    return base, roster(base, own, visits)


def coats(*litres: float | None) -> list[Entry]:
    _, of = sprayed()
    told = []
    for number, (one, litres_l) in enumerate(zip(of.visits, litres, strict=False), 1):
        values = WorkDone(
            work="spray_compound", task_id=one.task_id, visit_id=one.id,
            issue_number=1, litres_l=litres_l, area_m2=AREA_M2 if litres_l else None,
        )  # fmt: skip
        told.append(entry(number, 7 + 2 * number, values))
    return told


def section(entries: list[Entry]) -> Section:
    base, of = sprayed()
    one = life_in(base, of, entries, 20)
    made = coverage_section(one, words_of(one))
    assert made is not None
    return made


def asked_l() -> float:
    _, of = sprayed()
    (own,) = of.surfaces
    tasks = [task for task in own.tasks if task.kind == "spray_compound"]
    return sum(m.volume_l or 0 for task in tasks for m in task.materials)


@pytest.mark.parametrize(
    ("share", "state"), [(1.0, "met"), (0.96, "met"), (0.94, "NOT met")]
)
def test_litres_over_area_against_what_is_asked(share: float, state: str) -> None:
    put_l = share * asked_l()
    all_coats = section(coats(put_l / 2, put_l / 2)).rows[-1]
    assert all_coats.cells[1] == f"{asked_l() / AREA_M2:.2f} L/m²"
    assert all_coats.cells[2] == f"{put_l / AREA_M2:.2f} L/m² over 300 m²"
    assert all_coats.cells[-1] == state


def test_a_coat_nobody_wrote_of_leaves_the_sum_unknown() -> None:
    first, second, all_coats = section(coats(30.0)).rows
    assert first.cells[2] == "30.0 L on 300 m²: 0.10 L/m²"
    assert second.cells[2:] == ("unknown", "planned, nobody wrote", "unknown")
    assert all_coats.cells[-1] == "unknown"


def test_litres_that_nobody_wrote_are_missing() -> None:
    base, of = sprayed()
    one = life_in(base, of, coats(None, 30.0), 20)
    assert "litres and area of compound at 1 visit" in missing_of(one, words_of(one))


def test_a_cover_that_is_laid_has_no_coverage() -> None:
    one = life(hours=10)
    assert one.surface_id == TOP
    assert coverage_section(one, words_of(one)) is None
