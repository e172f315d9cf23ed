"""Blankets that go on right after placing, because frost would come first."""

from models.records import Pour, Surface
from scheduler.clocked import Clocked, clock
from scheduler.methods.case.cases import cases_of
from scheduler.methods.expand import expand
from scheduler.methods.surfaces import surfaces_of
from tests.builders import pour, site_input, weather
from tests.scheduler.methods.methods_builders import duties


def clocked(air_c: float, one: Pour) -> Clocked:
    given = site_input(one).model_copy(
        update={"weather": weather(mean_c=air_c, swing_k=2, wind_m_s=6)}
    )
    return clock(given, surfaces_of(given))


def blankets(**fields: object) -> Pour:
    base: dict[str, object] = {"method": "insulated_blankets"}
    return pour("P1", **(base | {"placing_temperature_c": 10} | fields))


def top(made: Clocked) -> Surface:
    return made.surfaces[0]


def test_blankets_go_on_at_once_where_frost_comes_before_it_bears_people() -> None:
    made = clocked(-8, blankets())
    assert top(made).at_once
    case = cases_of(made.site_input, made.hydration, made.drying).of(top(made))
    assert case.ready_min == case.exposed_min
    bears_people = made.hydration.events[0].bears_people.expected_at
    assert made.site_input.horizon.minute(bears_people) > case.ready_min
    work = expand(
        made.site_input, made.surfaces, made.hydration, made.drying, made.held
    )
    laid = [t for name, t in duties(work).items() if name.startswith("lay-")]
    assert {t.earliest_min for t in laid} == {case.exposed_min}
    at_once = "At once: frost comes before it bears people."
    assert all(t.steps[0].startswith(at_once) for t in laid)


def test_they_keep_it_from_freezing_before_it_sets() -> None:
    waiting = clocked(-8, pour(placing_temperature_c=10))  # burlap
    assert waiting.hydration.events[0].freezes_at is not None
    assert clocked(-8, blankets()).hydration.events[0].freezes_at is None


def test_in_mild_air_they_wait_for_people() -> None:
    assert not top(clocked(8, blankets())).at_once


def test_other_covers_wait_even_in_frost() -> None:
    assert not top(clocked(-8, pour(placing_temperature_c=10))).at_once


def test_what_is_covered_already_is_left_alone() -> None:
    given = site_input()
    placed = given.pours[0].placing_ends_at
    assert not top(clocked(-8, blankets(covered_at=placed))).at_once
