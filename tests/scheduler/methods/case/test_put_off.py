"""Forms and planned changes that wait until the concrete bears them."""

from datetime import timedelta

from models.drying.surroundings import surroundings
from models.hydration.clock import run
from models.records import Pour, SectionRow, SiteInput, Surface
from scheduler.clocked import Clocked, clock
from scheduler.methods.case.put_off import PutOff, put_off
from scheduler.methods.surfaces import planning_grid, surfaces_of
from scheduler.methods.warnings.requirements import warnings_of
from tests.builders import MONDAY, pour, site_input, weather
from tests.scheduler.methods.methods_builders import hour, ruled


def wall(thickness_mm: float = 900, strike_h: float = 50) -> Pour:
    """Struck on Wednesday 08:00 unless said otherwise; placed warm."""
    return pour(
        "W", element="wall", thickness_mm=thickness_mm, formed_area_m2=120, area_m2=20,
        strike_at=hour(strike_h), formed_method="plastic_sheet",
        placing_temperature_c=25,
    )  # fmt: skip


def changed() -> Pour:
    """Blankets that give way after two days, Wednesday 13:00 and half an hour."""
    return pour(
        method="insulated_blankets", thickness_mm=300, then_method="burlap_double",
        then_after="48 h",
    )  # fmt: skip


def in_air(air_c: float, one: Pour, **limits: object) -> SiteInput:
    given = site_input(one).model_copy(
        update={"weather": weather(mean_c=air_c, swing_k=1)}
    )
    return ruled(given, **limits)


def asked(given: SiteInput) -> tuple[tuple[Surface, ...], dict[str, PutOff]]:
    """Surfaces as they are put off, and the first of each that was."""
    surfaces, grid = surfaces_of(given), planning_grid(given)
    around = surroundings(surfaces, given, grid)
    found, later = put_off(given, surfaces, around, run(surfaces, given, around, grid))
    return found, {key: off[0] for key, off in later.items()}


def face(surfaces: tuple[Surface, ...]) -> Surface:
    return next(s for s in surfaces if s.face == "formed")


THICK = {"core_surface_max_k": 15, "core_surface_from_mm": 500}


def test_forms_stay_on_while_the_core_is_too_warm_for_the_face() -> None:
    surfaces, later = asked(in_air(5, wall(), **THICK))
    off = later["W-faces"]
    assert (off.what, off.shock.kind) == ("forms", "core")
    assert off.shock.at_min == 50 * 60
    assert off.until_min is not None
    # Days later, at the same hour.
    assert (off.until_min - 50 * 60) % 1440 == 0
    assert face(surfaces).exposed_at == MONDAY + timedelta(minutes=off.until_min)


def test_forms_come_off_as_asked_where_the_rule_is_kept() -> None:
    given = in_air(22, wall(300), **THICK)
    assert asked(given) == (surfaces_of(given), {})


def test_the_fall_of_an_hour_moves_no_striking() -> None:
    given = in_air(5, wall(300), cooling_hour_max_k=0.5)
    assert asked(given)[1] == {}


def test_what_finds_no_day_stays_on_all_through_the_plan() -> None:
    given = in_air(5, wall(900, strike_h=24 * 6), core_surface_max_k=2)
    surfaces, later = asked(given)
    assert later["W-faces"].until_min is None
    assert face(surfaces).exposed_at == given.horizon.ends_at


def test_a_change_to_a_thinner_cover_waits() -> None:
    given = in_air(5, changed(), cooling_hour_max_k=2.8)
    (before,), ((top,), later) = surfaces_of(given), asked(given)
    off = later["P1-top"]
    assert (off.what, off.shock.kind) == ("blankets", "hour")
    planned = before.later[0].starts_at
    if off.until_min is None:
        assert top.later == ()
    else:
        assert top.later[0].starts_at == MONDAY + timedelta(minutes=off.until_min)
        assert top.later[0].starts_at > planned
        assert top.later[0].reason.endswith("not sooner, the concrete was too warm")


def test_a_change_to_a_thicker_cover_does_not_wait() -> None:
    one = pour(
        then_method="insulated_blankets", then_after="30 h",
        thickness_mm=300,
    )  # fmt: skip
    rows = (SectionRow(cooling_max_k=0.1),)
    assert asked(in_air(5, one, cooling_hour_max_k=0.1, sections=rows))[1] == {}


def clocked(given: SiteInput) -> Clocked:
    return clock(given, surfaces_of(given))


def test_the_plan_has_it_at_the_later_time_and_says_so() -> None:
    made = clocked(in_air(5, wall(), **THICK))
    (off,) = made.held["W-faces"].put_off
    assert off.until_min is not None
    struck_at = MONDAY + timedelta(minutes=off.until_min)
    column = made.hydration.surface_ids.index("W-faces")
    assert made.surfaces[column].exposed_at == struck_at
    # The clocks are those of the later time: in forms it stays warmer.
    day_before = made.hydration.grid.step(struck_at) - 144
    early = run(surfaces_of(made.site_input), made.site_input, made.around,
                made.hydration.grid)  # fmt: skip
    kept_c = made.hydration.surface_temperature_c[day_before, column]
    assert kept_c > early.surface_temperature_c[day_before, column]
    words = [f.words for f in warnings_of(
        made.site_input, made.surfaces, made.hydration, made.drying, made.held
    )]  # fmt: skip
    (said,) = [w for w in words if "keep the forms on" in w]
    assert said.startswith("W Quay slab, faces: keep the forms on until ")
    assert " Off Wed 08:00 as asked, its face would be " in said
    assert said.endswith(" colder than its core; at most 15.0 K (Seven days)")
