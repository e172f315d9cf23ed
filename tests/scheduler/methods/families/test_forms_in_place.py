"""Faces in their forms; the wall is placed until minute 300 and struck at hour 49."""

from models.records import SiteInput
from tests.builders import pour, site_input
from tests.scheduler.methods.methods_builders import duties, hour, work_of

STRIKE_MIN = 49 * 60


def wall(**fields: object) -> SiteInput:
    base: dict[str, object] = {
        "element": "wall", "area_m2": 20, "formed_area_m2": 60,
        "strike_at": hour(49), "formed_method": "forms_in_place",
    }  # fmt: skip
    return site_input(pour("P1", **(base | fields)))


def test_the_top_of_the_forms_is_kept_wet_every_shift_until_striking() -> None:
    named = duties(work_of(wall()), "P1-faces")
    visits = [t for n, t in named.items() if n.startswith("keep-wet/")]
    assert len(visits) == 4  # Monday and Tuesday, day and night
    assert all(t.latest_min <= STRIKE_MIN for t in visits)
    # 10 min of running water and 6 of set-up; 0.5 L/m² on 60 m².
    assert {t.duration_min for t in visits} == {16}
    assert {t.water.litres_l for t in visits if t.water} == {30}


def test_forms_are_eased_a_day_after_placing_at_the_soonest() -> None:
    """US Army course EN5466 (read): from 24 h; placing began at minute 60."""
    ease = duties(work_of(wall()), "P1-faces")["ease"]
    assert (ease.earliest_min, ease.latest_min) == (60 + 24 * 60, STRIKE_MIN)
    assert "pinch bar" in ease.steps[1]
    soon = duties(work_of(wall(strike_at=hour(20))), "P1-faces")
    assert "ease" not in soon


def test_struck_faces_are_covered_within_the_hour() -> None:
    """20 m² at 8 by three: 50 min and 6; two would take 75."""
    lay = duties(work_of(wall(formed_area_m2=20)), "P1-faces")["lay"]
    assert (lay.earliest_min, lay.due_min) == (STRIKE_MIN, STRIKE_MIN + 60)
    assert (lay.people, lay.duration_min) == (3, 56)
    assert lay.steps[0] == "Forms off: wet the face at once."


def test_nothing_is_laid_where_curing_ends_in_the_forms() -> None:
    """Curing so long after striking here, so it is made to end before."""
    work = work_of(wall(), curing_h=-1)
    named = duties(work, "P1-faces")
    assert {t.kind for t in named.values()} == {"keep_form_wet", "ease_forms"}


def test_faces_cured_in_their_forms_are_not_covered_by_any_method() -> None:
    """Nor are covers counted for them, nor limits of laying."""
    for method in ("burlap_double", "plastic_sheet", "compound_clear"):
        given = wall(formed_method=method)
        faces = work_of(given, curing_h=-1).surfaces[1]
        assert (faces.surface_id, faces.tasks, faces.rewet) == ("P1-faces", (), None)
        laid = work_of(given, curing_h=1).surfaces[1].tasks
        assert any(task.covers for task in laid)


def test_edges_can_be_left_in_their_forms_too() -> None:
    slab = pour(edge_area_m2=12, edge_strike_at=hour(30), edge_method="forms_in_place")
    named = duties(work_of(site_input(slab)), "P1-edges")
    assert named["lay"].earliest_min == 30 * 60
