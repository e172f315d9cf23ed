"""Limits that are broken, in the upper plot."""

import pytest

from exports.axis import Axis
from exports.breaches import Breached, breached
from exports.clocks.frame import HEAT_BOTTOM_PX
from exports.clocks.heat import courses, heat_lines, heat_scale
from exports.clocks.limits import BAR_PX, LimitCourse, breach_bands, limit_courses
from models.local_clock import LocalClock
from models.quantities import Units
from models.records import BreachKind, Finding
from tests.builders import MONDAY
from tests.exports.clocks.clocks_builders import air, hydration
from tests.exports.exports_builders import breach_finding, horizon

AXIS = Axis(horizon(), "Europe/Berlin")
#: Of the slab: 20 °C from minute 120 to the end of the week, 2160.
FACE = ((120.0, 20.0), (2160.0, 20.0))
AIR = tuple((60.0 * hour, 10.0) for hour in range(36))


def told(*findings: Finding, units: Units = "si") -> tuple[Breached, ...]:
    labels = {"P1-top": "B2 quay slab"}
    return breached(findings, labels, LocalClock("Europe/Berlin"), units, MONDAY)


def course(finding: Finding, units: Units = "si") -> LimitCourse:
    (made,) = limit_courses(told(finding, units=units), FACE, AIR, AXIS, units)
    return made


def test_a_peak_is_a_level_over_all_the_life_of_the_surface() -> None:
    made = course(breach_finding("too_hot", 600, 700, "P1-top", value=74, limit=70))
    assert made == LimitCourse(label="limit 70 °C", points=((120, 70), (2160, 70)))


def test_frost_is_drawn_at_freezing_in_the_units_of_the_site() -> None:
    given = breach_finding(
        "frost", 600, 700, "P1-top", value=-4, limit=0, strength_mpa=5
    )
    assert course(given).label == "limit 0 °C"
    assert course(given, "us").points[0][1] == pytest.approx(32)
    assert course(given, "us").label == "limit 32 °F"


def test_a_core_is_held_against_its_face() -> None:
    given = breach_finding("core_to_face", 600, 700, "P1-top")
    assert course(given).points == ((120, 40), (2160, 40))
    assert course(given).label == "limit: face + 20 K"
    # 20 K are 36 degrees Fahrenheit.
    assert course(given, "us").points == ((120, 56), (2160, 56))


def test_cooling_is_the_steepest_fall_allowed_from_where_it_begins() -> None:
    given = breach_finding(
        "cooling", 600, 2040, "P1-top", value=30, limit=22, within_h=24
    )
    assert course(given).points == ((600, 20), (600 + 1440, 20 - 22))
    hour = breach_finding("cooling", 600, 660, "P1-top", limit=3, within_h=1)
    # Of 3 K an hour four hours are drawn.
    assert course(hour).points == ((600, 20), (600 + 240, 20 - 12))


def test_what_comes_off_is_held_against_the_air_around_that_hour() -> None:
    given = breach_finding("above_air", 1200, 1201, "P1-top", value=24, limit=11)
    minutes = [x for x, _ in course(given).points]
    assert {y for _, y in course(given).points} == {21}
    assert (minutes[0], minutes[-1]) == (480, 1920)


def test_steam_before_set_has_no_line_and_a_limit_met_twice_has_one() -> None:
    steam = breach_finding(
        "steam_before_set",
        600,
        700,
        "P1-top",
        value=None,
        limit=None,
        sets_at=horizon().at(700),
    )
    kinds: tuple[BreachKind, ...] = ("frost", "freezes_before_set")
    frost = [
        breach_finding(
            kind, 600, 700, "P1-top", value=-1, limit=0, strength_mpa=5,
            sets_at=horizon().at(700),
        )
        for kind in kinds
    ]  # fmt: skip
    (only,) = limit_courses(told(steam, *frost), FACE, AIR, AXIS, "si")
    assert only.label == "limit 0 °C"


def test_bars_of_two_limits_have_rows_of_their_own() -> None:
    both = told(
        breach_finding("core_to_face", 600, 1600, "P1-top"),
        breach_finding("too_hot", 600, 1600, "P1-top", value=74, limit=70),
        breach_finding("too_hot", 1700, 1701, "P1-top", value=73, limit=70),
    )
    hot, moment, core = breach_bands(both, AXIS)
    # The plot is 1004 px from 64 on for 2160 minutes.
    assert hot.x == pytest.approx(64 + 1004 * 600 / 2160, abs=0.05)
    assert hot.width == pytest.approx(1004 * 1000 / 2160, abs=0.1)
    assert (hot.label, core.label) == ("too hot inside", "core too warm for the face")
    assert hot.anchor == "mid"
    assert hot.label_x == pytest.approx(hot.x + hot.width / 2, abs=0.1)
    assert moment.width == 8  # seen, though it is half a pixel wide
    assert moment.label == ""  # named by the first
    assert core.y + BAR_PX < hot.label_y < hot.y  # a bar and its words, then the next


def test_bars_of_heat_stand_at_the_foot_and_of_cold_at_the_top() -> None:
    cold = breach_finding("too_cold", 600, 900, "P1-top", value=3, limit=13)
    above, below = breach_bands(
        told(cold, breach_finding("core_to_face", 600, 900, "P1-top")), AXIS
    )
    assert (above.label, below.label) == (
        "concrete too cold", "core too warm for the face",
    )  # fmt: skip
    assert above.y + BAR_PX < above.label_y < HEAT_BOTTOM_PX / 2
    assert HEAT_BOTTOM_PX / 2 < below.label_y < below.y < HEAT_BOTTOM_PX - BAR_PX


@pytest.mark.parametrize(("from_min", "anchor"), [(600, "start"), (2100, "end")])
def test_of_short_stretches_the_first_is_named(from_min: int, anchor: str) -> None:
    short = [
        breach_finding("cooling", at, at + 20, "P1-top", limit=2.8, within_h=1)
        for at in (from_min, from_min + 30)
    ]
    first, second = breach_bands(told(*short), AXIS)
    assert (first.label, first.anchor, second.label) == ("cools too fast", anchor, "")
    edge = first.x + (first.width if anchor == "end" else 0)
    assert first.label_x == pytest.approx(edge, abs=0.1)
    assert first.label_y < first.y  # no word lies on a bar


def test_a_limit_beyond_the_scale_is_left_out_not_bent() -> None:
    drawn = courses(hydration(), air(), "P1-top", AXIS, "si")
    heights = heat_scale([drawn])  # to 50 °C
    high = LimitCourse(label="limit 70 °C", points=((120, 70), (2160, 70)))
    slope = LimitCourse(label="", points=((120, 60), (1000, 45), (2160, 30)))
    lines = heat_lines(drawn, heights, AXIS, "°C", (high, slope))
    silent, drawn_slope = (line for line in lines if line.style == "bound")
    assert (silent.path, silent.label) == ("", "")
    assert drawn_slope.path.startswith(f"M{64 + 1004 * 1000 / 2160:.1f},")
