"""The pond: after its bridge of burlap, filled, topped up, drained."""

from datetime import timedelta

import pytest

from scheduler.methods.case.figures import table
from scheduler.methods.families.ponding import pond_load_kn_m2
from scheduler.methods.surfaces import surfaces_of
from tests.builders import pour, site_input
from tests.scheduler.methods.methods_builders import by_name, duties, hour, work_of

POND = site_input(pour(method="ponding", area_m2=90))
DEPTH_MM = 25.0  # of the cover table; a litre a square metre a millimetre


def test_the_pond_is_planned_a_day_after_placing() -> None:
    """An Indian public works commentary (read): moist cover first, pond from 24 h."""
    (surface,) = surfaces_of(POND)
    (stage,) = surface.later
    assert surface.cover.kind == "burlap_single"
    assert (stage.cover.kind, stage.cover.held_l_m2) == ("pond", DEPTH_MM)
    assert stage.starts_at - surface.placing_ends_at == timedelta(hours=24)


def test_the_pond_is_as_cold_as_the_water_next_to_it() -> None:
    assert surfaces_of(POND)[0].later[0].cover.laid_at_c is None
    site = POND.site
    taps = tuple(
        point.model_copy(update={"temperature_c": 8.0}) if point.id == "tap" else point
        for point in site.water_points
    )
    known = site.model_copy(update={"water_points": taps})
    (surface,) = surfaces_of(POND.model_copy(update={"site": known}))
    assert surface.later[0].cover.laid_at_c == 8


def test_the_bund_stands_before_the_pond_is_filled() -> None:
    """Round 90 m²: 4.2 × 9.49 m = 39.8 m at 10 by three; at night × 1.3.

    79.7 min × 1.3 = 103.6 and 6 set-up.
    """
    named = duties(work_of(POND))
    bund, fill = named["change-1/bund"], named["change-1/lay"]
    assert (bund.duration_min, bund.people) == (110, 3)
    assert bund.materials[0].length_m == 39.8
    assert [link.task_id for link in fill.after] == [bund.id]
    assert [link.task_id for link in bund.after] == ["P1-top/lay"]


def test_the_pond_is_filled_around_the_time_it_is_planned_for() -> None:
    """90 m² × 25 L at 40 L/min for two hoses: 56.25 min, 6 set-up."""
    fill = duties(work_of(POND))["change-1/lay"]
    planned_min = 300 + 24 * 60
    assert (fill.earliest_min, fill.due_min) == (planned_min - 60, planned_min + 60)
    assert fill.water is not None
    assert fill.water.litres_l == 90 * DEPTH_MM
    assert fill.duration_min == 63
    assert (fill.effect, fill.covers) == ("wet", False)
    assert "to 25 mm" in fill.steps[2]


def test_a_day_of_the_pond_is_made_good_by_its_top_up() -> None:
    """Water in = lost + drained: a day loses 5 mm by leaks and up to 7 by weather."""
    named = duties(work_of(POND))
    top_ups = [t for n, t in named.items() if "top-up" in n]
    # Filled on Tuesday; on Thursday curing ends, and nobody fills what is drained.
    assert [t.id.rsplit("/", 1)[1] for t in top_ups] == ["2027-05-05-day"]
    lost_l_m2 = 5 + 7
    for task in top_ups:
        assert task.water is not None
        assert task.water.litres_l == 90 * lost_l_m2
        assert task.missed_cost > 0
        assert task.effect == "wet"


def test_a_shallow_pond_is_not_topped_up_above_its_rim() -> None:
    shallow = POND.site.model_copy(update={"rates": {"ponding.top_up_dose": 80.0}})
    work = work_of(POND.model_copy(update={"site": shallow}))
    doses = [t.water for n, t in duties(work).items() if "top-up" in n]
    assert doses
    assert all(w and w.litres_l == 90 * DEPTH_MM for w in doses)


def test_the_level_is_read_in_every_shift() -> None:
    looks = [t for n, t in by_name(work_of(POND)).items() if "change-1/look/" in n]
    assert {t.kind for t in looks} == {"check_level"}
    assert all("depth" in t.log_fields for t in looks)


def test_the_pond_goes_before_the_burlap_and_the_bund_last() -> None:
    named = duties(work_of(POND))
    drain, lift, wash = (named[f"change-1/{n}"] for n in ("drain", "remove", "wash"))
    assert [link.task_id for link in lift.after] == [drain.id]
    assert [link.task_id for link in wash.after] == [lift.id]
    assert "pH" in drain.log_fields
    assert any("gully" in step for step in drain.steps)


@pytest.mark.parametrize(("depth_mm", "load_kn_m2"), [(50, 0.5), (25, 0.25), (0, 0)])
def test_the_load_of_water(depth_mm: float, load_kn_m2: float) -> None:
    """Half a kilonewton for 50 mm: 0.05 m × 9.81 kN/m³, rounded up."""
    per_50mm = table()["ponding"]["load_per_50mm"]
    assert pond_load_kn_m2(depth_mm, per_50mm) == load_kn_m2


def test_a_pond_that_lay_there_before_the_plan_is_not_filled_again() -> None:
    old = pour(
        method="ponding", placing_starts_at=hour(-46), placing_ends_at=hour(-42),
        covered_at=hour(-38), area_m2=90,
    )  # fmt: skip
    kinds = {task.kind for task in duties(work_of(site_input(old))).values()}
    assert kinds == {"top_up", "drain", "remove_cover", "wash"}
