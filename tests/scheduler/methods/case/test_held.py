"""Mornings on which lifting would break a limit of cooling or of core against face."""

import pytest

from models.drying.surroundings import surroundings
from models.hydration.clock import run
from models.records import (
    EventWindow,
    Finding,
    MethodKey,
    SectionRow,
    SiteInput,
    Stretch,
    Task,
)
from scheduler.methods.case.held import Held, held_mornings
from scheduler.methods.case.shock import Shock
from scheduler.methods.expand import expand
from scheduler.methods.surfaces import planning_grid, surfaces_of
from scheduler.methods.warnings.requirements import warnings_of
from tests.builders import pour, site_input, weather
from tests.scheduler.methods.methods_builders import (
    case,
    drying,
    duties,
    hour,
    hydration,
    ruled,
)

#: Mornings of the builders' worked days begin at 06:00, minute 0, or with the shift.
DAY = 1440


def asked(
    air_c: float = 4,
    method: MethodKey = "insulated_blankets",
    thickness_mm: float = 300,
    **limits: object,
) -> SiteInput:
    """A slab in even air; the plan's rule has the limits given."""
    given = site_input(pour(method=method, thickness_mm=thickness_mm, area_m2=90))
    given = given.model_copy(update={"weather": weather(mean_c=air_c, swing_k=2)})
    return ruled(given, **limits)


def held(given: SiteInput, ends_h: float = 60) -> Held | None:
    """Its held mornings, curing over so long after the plan begins."""
    surfaces, grid = surfaces_of(given), planning_grid(given)
    around = surroundings(surfaces, given, grid)
    clock = run(surfaces, given, around, grid)
    at = hour(ends_h)
    ends = EventWindow(earliest_at=at, expected_at=at, latest_at=at)
    events = tuple(e.model_copy(update={"curing_ends": ends}) for e in clock.events)
    history = type(clock)(**{**vars(clock), "events": events})
    return held_mornings(given, surfaces, around, history).get("P1-top")


# UFGS-03300N (read in a copy): at most 5 °F, 2.8 K, in any hour.
def test_blankets_stay_on_warm_concrete_in_cold_air() -> None:
    found = held(asked(cooling_hour_max_k=2.8))
    assert found is not None
    first = found.shocks[min(found.shocks)]
    # Curing ends Wednesday 18:00, minute 3600; the next morning is Thursday's.
    assert (min(found.shocks), first.kind, first.most_k) == (3 * DAY, "hour", 2.8)
    assert first.is_k > 2.8
    assert first.clause == "Seven days"


def test_burlap_may_come_off_in_mild_air() -> None:
    assert held(asked(18, "burlap_double", cooling_hour_max_k=2.8)) is None


def test_without_limits_nothing_is_held() -> None:
    assert held(asked(method="burlap_double")) is None


# Concrete Construction (read): all off only once the face is within 20 °F, 11 K.
def test_insulation_stays_on_a_face_far_above_the_air() -> None:
    found = held(asked())
    assert found is not None
    first = found.shocks[min(found.shocks)]
    assert (first.kind, first.most_k) == ("air", 11)
    assert "20 °F (11 K) of the air" in first.clause


def test_a_film_is_not_lifted() -> None:
    given = asked(method="compound_clear", cooling_hour_max_k=0.1)
    assert held(given) is None


def test_a_core_too_warm_holds_thin_covers_of_thick_members_only() -> None:
    limits = {"core_surface_max_k": 15, "core_surface_from_mm": 500}
    raft = held(asked(method="burlap_double", thickness_mm=1500, **limits))
    assert raft is not None
    assert {s.kind for s in raft.shocks.values()} == {"core"}
    assert held(asked(method="burlap_double", thickness_mm=499, **limits)) is None


def test_the_fall_of_a_day_is_held_against_the_section() -> None:
    def rows(most_k: float) -> list[object]:
        return [SectionRow(cooling_max_k=most_k, clause="by the day")]

    found = held(asked(sections=tuple(rows(5))))
    assert found is not None
    first = found.shocks[min(found.shocks)]
    assert (first.kind, first.clause) == ("day", "by the day")
    more = held(asked(sections=tuple(rows(first.is_k + 0.1))))
    assert more is not None
    assert {shock.kind for shock in more.shocks.values()} == {"air"}


def test_nothing_is_held_where_curing_ends_after_the_plan() -> None:
    assert held(asked(cooling_hour_max_k=2.8), ends_h=24 * 9) is None


def shock(at_min: int) -> Shock:
    return Shock(at_min, "hour", 6.04, 2.8, "a clause")


def lifted(
    held_min: tuple[int, ...], curing_h: float = 72
) -> tuple[dict[str, Task], list[Finding]]:
    """Work and warnings on clocks made by hand, some mornings held."""
    given = site_input(pour(area_m2=90))
    surfaces, grid = surfaces_of(given), planning_grid(given)
    clocks = hydration(surfaces, grid, curing_h), drying(surfaces, grid)
    by_id = {"P1-top": Held({m: shock(m) for m in held_min})}
    work = expand(given, surfaces, *clocks, by_id)
    warnings = warnings_of(given, surfaces, *clocks, by_id)
    return duties(work), [f for f in warnings if f.kind == "temperature"]


#: Curing of the builders' slab ends Thursday 11:00, minute 4620; Friday 06:00 is 5760.
FRIDAY = 4 * DAY


def test_lifting_waits_for_the_next_morning_that_may_be() -> None:
    free, none = lifted((), curing_h=48)
    assert 3 * DAY <= free["remove"].earliest_min < FRIDAY
    assert none == []
    tasks, (warning,) = lifted((3 * DAY,), curing_h=48)
    assert tasks["remove"].earliest_min >= FRIDAY
    assert warning.words == (
        "P1 Quay slab, top: keep the burlap on until Fri 7 May 06:00 CEST. Lifted Thu "
        "06:00, its face would cool by 6.0 K in an hour; at most 2.8 K (a clause)"
    )


def test_it_is_over_before_a_morning_that_is_held_again() -> None:
    free, _ = lifted((), curing_h=48)
    assert 3 * DAY <= free["remove"].earliest_min < FRIDAY < free["remove"].latest_min
    tasks, found = lifted((FRIDAY,), curing_h=48)
    assert tasks["remove"].earliest_min == free["remove"].earliest_min
    assert tasks["remove"].latest_min == FRIDAY
    assert found == []


def test_nobody_is_sent_where_no_morning_bears_it() -> None:
    mornings = case(site_input(pour(area_m2=90))).calendar.mornings
    tasks, (warning,) = lifted(tuple(m.from_min for m in mornings))
    assert "remove" not in tasks
    assert warning.words.startswith(
        "P1 Quay slab, top: keep the burlap on; nobody is sent to lift it in this plan."
    )
    assert warning.words.endswith(
        "its face would cool by 6.0 K in an hour; at most 2.8 K (a clause). Loosen it, "
        "wait and measure, or ask the engineer"
    )


@pytest.mark.parametrize("kind", ["loosen", "remove"])
def test_a_sheet_is_not_even_loosened_before(kind: str) -> None:
    given = site_input(pour(area_m2=90, method="plastic_sheet"))
    surfaces, grid = surfaces_of(given), planning_grid(given)
    clocks = hydration(surfaces, grid), drying(surfaces, grid)
    mornings = [m.from_min for m in case(given).calendar.mornings]
    all_held = {"P1-top": Held({m: shock(m) for m in mornings})}
    assert kind in duties(expand(given, surfaces, *clocks))
    assert kind not in duties(expand(given, surfaces, *clocks, all_held))


def freed(method: MethodKey, middays: tuple[int, ...]) -> dict[str, Task]:
    """Work of a slab with all mornings held and the middays of some days free."""
    given = site_input(pour(area_m2=90, method=method))
    surfaces, grid = surfaces_of(given), planning_grid(given)
    clocks = hydration(surfaces, grid, curing_h=24), drying(surfaces, grid)
    mornings = [m.from_min for m in case(given).calendar.mornings]
    free = tuple(
        Stretch(from_min=day * DAY + 360, until_min=day * DAY + 540) for day in middays
    )
    one = Held({m: shock(m) for m in mornings}, free)
    return duties(expand(given, surfaces, *clocks, {"P1-top": one}))


def test_where_no_morning_bears_it_a_midday_may() -> None:
    # Wednesday's midday, 12:00 to 15:00 local, is minutes 3240 to 3420.
    lift = freed("burlap_double", (2,))["remove"]
    assert (lift.earliest_min, lift.latest_min) == (3240, 3420)
    assert any("in the warm hours" in step for step in lift.steps)
    cool = lifted((), curing_h=48)[0]["remove"]
    assert any("while it is cool" in step for step in cool.steps)


def test_a_sheet_loosened_at_midday_is_lifted_at_a_later_one() -> None:
    tasks = freed("insulated_blankets", (2, 3))
    assert (tasks["loosen"].earliest_min, tasks["loosen"].latest_min) == (3240, 3420)
    assert (tasks["remove"].earliest_min, tasks["remove"].latest_min) == (4680, 4860)
    assert "remove" not in freed("insulated_blankets", (2,))


def test_middays_are_tried_where_mornings_are_held() -> None:
    """Cool nights and mild days: a face at some 25 °C meets 5 °C, or 20 °C."""
    mild = asked(thickness_mm=200, cooling_hour_max_k=2.8).model_copy(
        update={"weather": weather(mean_c=14, swing_k=9)}
    )
    found = held(mild)
    assert found is not None
    assert found.shocks
    # 12:00 to 15:00 local are minutes 360 to 540 of a day.
    spans = [(m.from_min % DAY, m.until_min % DAY) for m in found.middays]
    assert set(spans) == {(360, 540)}
    cold = held(asked(air_c=-5, cooling_hour_max_k=0.1))
    assert cold is not None
    assert cold.middays == ()
