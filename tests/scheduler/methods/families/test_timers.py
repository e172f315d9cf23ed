"""Water on a timer: sprinklers over burlap, soaker hose under a sheet."""

from datetime import time

import pytest

from models.errors import InputError
from models.records import CompetingUse, SiteInput
from scheduler.methods.surfaces import surfaces_of
from tests.builders import pour, site_input
from tests.scheduler.methods.methods_builders import (
    by_name,
    duties,
    frosty,
    hour,
    work_of,
)

HEADS = site_input(pour(method="sprinklers", area_m2=90))
HOSE = site_input(pour(method="soaker_under_sheet", area_m2=90))


def test_heads_are_set_out_over_soaked_burlap() -> None:
    """90 m² at 450 by two: 6 min, 6 set-up and half an hour of running in."""
    named = duties(work_of(HEADS))
    run_in = named["commission"]
    assert (run_in.duration_min, run_in.people, run_in.effect) == (42, 2, "seal")
    assert [link.task_id for link in run_in.after] == ["P1-top/soak"]


def test_hose_is_laid_under_the_sheet() -> None:
    """90 m of hose at 80 by two: 33.75 min, 6 set-up and half an hour."""
    named = duties(work_of(HOSE))
    assert named["commission"].duration_min == 70
    assert [link.task_id for link in named["commission"].after] == ["P1-top/lay"]
    assert named["commission"].steps[0].startswith("Hose under the sheet every 1 m")


@pytest.mark.parametrize(("given", "dose_l_m2"), [(HEADS, 36), (HOSE, 12)])
def test_the_day_draws_its_dose(given: SiteInput, dose_l_m2: float) -> None:
    """Evenly, from when it is run in until curing ends, at 300 + 72 h."""
    (surface,) = work_of(given).surfaces
    (flow,) = surface.automatic
    day_l = flow.flow_l_min * 24 * 60
    assert day_l == pytest.approx(90 * dose_l_m2, rel=0.001)
    run_in = duties(work_of(given))["commission"]
    assert flow.from_min == run_in.earliest_min + run_in.duration_min
    assert flow.until_min == 300 + 72 * 60
    assert flow.water_point_id == "tap"


def test_the_timer_words_give_the_dose() -> None:
    """36 L/m² a day are 1.5 an hour; 15 L/min on 150 m² are 6 an hour: 15 minutes."""
    steps = duties(work_of(HEADS))["commission"].steps
    assert "Timer: 15 min in every hour, day and night." in steps
    # 12 L/m² a day are 0.5 an hour; a metre of hose gives 7.5: 4 minutes.
    steps = duties(work_of(HOSE))["commission"].steps
    assert "Timer: 4 min in every hour, day and night." in steps


def test_nothing_is_drawn_while_lines_may_freeze() -> None:
    """Allowed weather: 2 °C for a hose. Blankets are planned before Tuesday's frost."""
    given = site_input(
        pour(
            method="soaker_under_sheet", area_m2=90,
            then_method="insulated_blankets", then_after="frost",
        )
    )  # fmt: skip
    (surface,) = work_of(frosty(given, 42)).surfaces
    # The day shift before that night ends on Tuesday at 17:00 local, minute 2100.
    assert surface.automatic[-1].until_min == 2100 - 60
    cold = frosty(HEADS, 30, air_c=3)  # cold enough to shut sprinklers, no frost
    first, second = work_of(cold).surfaces[0].automatic
    assert (first.until_min, second.from_min) == (30 * 60, 31 * 60)


def test_a_system_that_runs_already_is_run_in_again() -> None:
    old = pour(
        method="sprinklers", placing_starts_at=hour(-30), placing_ends_at=hour(-26),
        covered_at=hour(-22), area_m2=90,
    )  # fmt: skip
    named = duties(work_of(site_input(old)))
    assert named["commission"].after == ()
    assert named["commission"].duration_min == 30
    assert "lay" not in named


@pytest.mark.parametrize("given", [HEADS, HOSE])
def test_an_automatic_system_is_still_looked_at_every_shift(given: SiteInput) -> None:
    looks = [t for n, t in by_name(work_of(given)).items() if n.startswith("look/")]
    assert len(looks) >= 5
    assert all("battery" in " ".join(t.steps) for t in looks)


@pytest.mark.parametrize("given", [HEADS, HOSE])
def test_it_is_shut_off_before_anything_is_lifted(given: SiteInput) -> None:
    named = duties(work_of(given))
    after = named.get("loosen", named["remove"]).after
    assert [link.task_id for link in after] == ["P1-top/shut-off"]
    assert named["shut-off"].late_cost_per_min == 1


def test_the_surface_knows_its_first_cover() -> None:
    covers = [s.cover.kind for s in (*surfaces_of(HEADS), *surfaces_of(HOSE))]
    assert covers == ["burlap_single", "sheet_over_burlap"]


def fed(**tap: object) -> list[str]:
    """Points of two systems of 7.5 L/min each in zone A, whose tank has 60 m³."""
    pours = [pour(f"P{n}", method="sprinklers", area_m2=300) for n in (1, 2)]
    given = site_input(*pours)
    nearest, tank = given.site.water_points
    points = (
        nearest.model_copy(update=tap),
        tank.model_copy(update={"capacity_l": 60_000, "level_l": 60_000}),
    )
    where = given.site.model_copy(update={"water_points": points})
    work = work_of(given.model_copy(update={"site": where}))
    steps = [duties(work, name)["commission"].steps for name in ("P1-top", "P2-top")]
    own = [surface.automatic[0].water_point_id for surface in work.surfaces]
    names = {"tap": "Tap at gate", "tank": "Hall tank"}
    assert [told[-1] for told in steps] == [f"Water from {names[n]}." for n in own]
    return own


def test_a_timer_is_fed_from_the_nearest_point_that_has_enough_for_it() -> None:
    # 300 m² at 36 L/m² are 10,800 L a day, 7.5 L/min.
    assert fed() == ["tap", "tap"]
    assert fed(flow_l_min=10) == ["tap", "tank"]
    assert fed(flow_l_min=7) == ["tank", "tank"]
    assert fed(daily_allotment_l=10_801) == ["tap", "tank"]
    others = CompetingUse(starts=time(14), ends=time(16), flow_l_min=30)
    assert fed(competing=(others,)) == ["tap", "tank"]


def test_a_timer_that_no_point_has_enough_for_is_refused_at_the_nearest() -> None:
    """2000 m² at 36 L/m² a day are 50 L/min; the tap gives 40, the tank 30."""
    with pytest.raises(InputError) as caught:
        work_of(site_input(pour(method="sprinklers", area_m2=2000)))
    (problem,) = caught.value.problems
    assert str(problem).startswith(
        "water tap, [[water]] flow: found 40 L/min; expected 50 L/min, which timers"
    )


def test_a_timer_that_empties_its_tank_is_refused() -> None:
    """400 m² at 36 L/m² a day are 10 L/min on a refill of 2: 4000 L in 500 min."""
    with pytest.raises(InputError) as caught:
        work_of(site_input(pour(method="sprinklers", area_m2=400, zone_id="B")))
    (problem,) = caught.value.problems
    assert (str(problem.place), problem.field) == ("water tank", "[[water]] level")
    # Run in about Monday 16:00 local, so by the early hours of Tuesday.
    assert "empty it on Tue 0" in problem.wanted
