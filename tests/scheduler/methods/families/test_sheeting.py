"""The chain of sheets; the pour and its times are those of test_wet_covers."""

import pytest

from models.records import Link
from tests.builders import pour, site_input
from tests.scheduler.methods.methods_builders import duties, hour, work_of

SHEET = site_input(pour(method="plastic_sheet"))
BOTH = site_input(pour(method="sheet_over_burlap"))


def test_a_sheet_is_laid_on_a_wetted_surface_by_two_at_least() -> None:
    """A strip of 150 m²: mist at 300 and lay at 70 by four: 7.5 + 32.1 min and 6."""
    named = duties(work_of(SHEET))
    assert [name for name in named if name.startswith("lay")] == ["lay-1", "lay-2"]
    for lay in (named["lay-1"], named["lay-2"]):
        assert (lay.people, lay.duration_min) == (4, 46)
        assert (lay.effect, lay.covers) == ("wet", lay.part == 2)
        assert lay.water is not None
        assert lay.water.litres_l == 150
        assert "fine spray" in lay.steps[1]


def test_a_small_sheet_still_takes_two() -> None:
    assert (
        duties(work_of(site_input(pour(method="plastic_sheet", area_m2=5))))[
            "lay"
        ].people
        == 2
    )


@pytest.mark.parametrize(("area_m2", "small"), [(9.9, True), (10, False)])
def test_a_small_face_is_wetted_by_whoever_inspects_it(
    area_m2: float, small: bool
) -> None:
    (work,) = work_of(
        site_input(pour(method="plastic_sheet", area_m2=area_m2))
    ).surfaces
    looks = [task for task in work.tasks if task.kind == "inspect"]
    assert looks
    assert (work.rewet is None) == small
    for look in looks:
        assert (look.effect == "wet") == small
        assert (look.water is not None) == small
        assert look.met_by_wetting != small
    if small:
        # 1 L/m² on 9.9 m²; 6 min and the walk round it, of one person.
        water = looks[0].water
        assert water is not None
        assert water.litres_l == 9.9
        assert looks[0].people == 1
        assert water.until_min == looks[0].duration_min == 7


def test_the_first_inspection_comes_90_minutes_after_the_sheet_is_on() -> None:
    (work,) = work_of(SHEET).surfaces
    looks = [task for task in work.tasks if task.kind == "inspect"]
    last = [task.id for task in work.tasks if task.covers]
    on = Link(task_id=last[0], min_gap_min=90)
    assert {task.after for task in looks} == {(on,)}


def test_both_layers_go_on_in_one_with_a_full_soak() -> None:
    """Strips of 75 m² at 25 by four: 45 + 6 min; 2.5 L/m²."""
    laid = [t for n, t in duties(work_of(BOTH)).items() if n.startswith("lay")]
    assert [lay.duration_min for lay in laid] == [51] * 4
    assert sum(lay.water.litres_l for lay in laid if lay.water) == 750
    assert "soak" not in duties(work_of(BOTH)), "soaked before the sheet closes it"


def test_edges_are_loosened_an_hour_before_the_sheet_is_lifted() -> None:
    """300 m² at 300 by two: 30 + 6 min, from Friday 06:00 local (see wet covers)."""
    named = duties(work_of(SHEET))
    loosen, remove = named["loosen"], named["remove"]
    assert (loosen.kind, loosen.earliest_min, loosen.duration_min) == (
        "loosen", 4 * 1440, 36,
    )  # fmt: skip
    assert remove.after == (Link(task_id="P1-top/loosen", min_gap_min=60),)
    assert remove.earliest_min == loosen.earliest_min + 36 + 60


def test_edges_are_due_while_lifting_can_still_be_in_time_and_late_ones_cost() -> None:
    """300 m² at 90 by four: 50 + 6 min; due at 6060, an hour after: 6060 - 56 - 60."""
    named = duties(work_of(SHEET))
    loosen, remove = named["loosen"], named["remove"]
    assert (remove.due_min, remove.duration_min) == (6060, 56)
    assert loosen.due_min == 5944
    assert loosen.late_cost_per_min == remove.late_cost_per_min == 1


def test_covers_whose_time_ended_at_the_weekend_are_lifted_on_monday() -> None:
    """Curing ended on Saturday; the plan begins on Monday 06:00 local."""
    old = pour(
        method="plastic_sheet", placing_starts_at=hour(-46), placing_ends_at=hour(-42),
        covered_at=hour(-38),
    )  # fmt: skip
    named = duties(work_of(site_input(old), curing_h=10))
    assert list(named) == ["loosen", "remove"]
    assert named["loosen"].earliest_min == 0


def test_nothing_is_asked_where_curing_is_over_and_no_cover_was_reported() -> None:
    old = pour(
        method="plastic_sheet", placing_starts_at=hour(-46), placing_ends_at=hour(-42)
    )
    work = work_of(site_input(old), curing_h=10)
    assert work.surfaces[0].tasks == ()
    assert work.surfaces[0].rewet is None
    assert work.surfaces[0].fresh == ()


def test_the_rewet_lifts_an_edge_with_two() -> None:
    """300 m² at 120 by two: 75 + 6 min."""
    rewet = duties(work_of(SHEET))["rewet"]
    assert (rewet.people, rewet.duration_min) == (2, 81)
    assert rewet.steps[0].startswith("Lift one edge")


def test_faces_are_wrapped_at_the_pace_of_faces() -> None:
    """Two strips of 50 m²: mist at 300 and wrap at 25 by four: 2.5 + 30 min and 6."""
    wall = pour(
        element="wall", area_m2=10, formed_area_m2=100, strike_at=hour(49),
        formed_method="plastic_sheet",
    )  # fmt: skip
    named = duties(work_of(site_input(wall)), "P1-faces")
    assert [named[f"lay-{n}"].duration_min for n in (1, 2)] == [39, 39]
