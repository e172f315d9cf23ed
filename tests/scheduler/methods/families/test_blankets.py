"""Insulated blankets: laid dry over a sheet, read every shift, taken off in stages."""

from models.records import SectionRow
from tests.builders import pour, site_input
from tests.scheduler.methods.methods_builders import by_name, duties, ruled, work_of

COLD = site_input(pour(method="insulated_blankets", area_m2=90))


def test_sheet_and_blankets_go_on_once_people_leave_no_mark() -> None:
    """45 m² at 40 by two: 33.75 min and 6; a damp face of 0.5 L/m²."""
    named = duties(work_of(COLD))
    for lay in (named["lay-1"], named["lay-2"]):
        assert (lay.earliest_min, lay.duration_min) == (660, 40)
        assert lay.water is not None
        assert lay.water.litres_l == 22.5
        assert any("no free water" in step for step in lay.steps)


def test_no_water_is_brought_under_them() -> None:
    surface = work_of(COLD).surfaces[0]
    assert surface.rewet is None
    assert surface.curve is None


def test_temperatures_are_read_in_every_shift() -> None:
    looks = [t for n, t in by_name(work_of(COLD)).items() if n.startswith("look/")]
    assert {t.kind for t in looks} == {"read_temperature"}
    assert all("lowest" in t.log_fields for t in looks)


def test_the_top_layer_comes_off_half_a_day_before_the_rest() -> None:
    named = duties(work_of(COLD))
    loosen, remove = named["loosen"], named["remove"]
    assert loosen.title == "Top blankets off"
    (link,) = remove.after
    assert (link.task_id, link.min_gap_min) == (loosen.id, 720)
    assert remove.due_min >= remove.earliest_min + 720, "the next morning is not late"


# Concrete Construction, question on cold-weather protection (read): off once within
# 20 °F (11 K) of the air; at most 50 °F (28 K) in 24 h for sections below 12 in.
def test_how_cool_it_must_be_is_on_the_sheet() -> None:
    named = duties(work_of(COLD))
    for task in (named["loosen"], named["remove"]):
        assert "All off only once the face is within 11 K of the air." in task.steps
        assert "It may cool by 28 K in 24 h: faster, lay them back." in task.steps


def test_the_rules_own_limits_come_first() -> None:
    rows = (SectionRow(up_to_mm=900, minimum_c=10, cooling_max_k=22),)
    named = by_name(work_of(ruled(COLD, sections=rows)))
    assert any("cool by 22 K" in step for step in named["remove"].steps)
    look = next(t for n, t in named.items() if n.startswith("look/"))
    assert look.steps[0].startswith("Read face, at least 10 °C")
