"""The sentence of a method."""

from dataclasses import replace

from models.records import AutomaticFlow, Stretch
from scheduler.estimates.estimate import Estimate, estimate
from scheduler.estimates.lasting import Lasting
from scheduler.estimates.words import Phrasing, sentence
from tests.scheduler.estimates.advise_builders import (
    NIGHTS,
    lay,
    rewet,
    surface_work,
    work_list,
)

NAMING = Phrasing(
    units="si", night="20:00 to 06:00", longest_dry="Mon 19:00 to Mon 21:00"
)
WET = surface_work(lay(), rewet=rewet(), ends_min=700)
FILM = surface_work(lay(), curve=None)


def found() -> Estimate:
    """Two people for an hour and one visit of 20 min with 200 L."""
    return estimate(work_list(WET), WET, NIGHTS)


def test_a_filling_that_lasts_the_night() -> None:
    assert sentence(found(), Lasting(19, 19), WET, 0, NAMING) == (
        "Lasts 19 h per wetting: nobody needed at night, 20:00 to 06:00; "
        "1 re-wetting, 2.3 crew hours, 200 L."
    )


def test_rewets_in_the_night_are_counted() -> None:
    by_night = replace(found(), rewets=6, night_rewets=2)
    assert sentence(by_night, Lasting(2.1, 5.5), WET, 0, NAMING) == (
        "Lasts 2.1 h when wetted by day, 5.5 h by night: 2 of 6 re-wettings at night; "
        "6 re-wettings, 2.3 crew hours, 200 L."
    )


def test_one_and_none_are_counted_as_people_do() -> None:
    one = sentence(
        replace(found(), rewets=3, night_rewets=1), Lasting(3, 3), WET, 0, NAMING
    )
    assert "per wetting: 1 of 3 re-wettings at night; 3 re-wettings, " in one
    none = sentence(replace(found(), rewets=0), Lasting(40, 40), WET, 0, NAMING)
    assert "; no re-wetting, 2.3 crew hours" in none


def test_dry_time_is_told_with_its_longest_stretch() -> None:
    once = replace(found(), dry=(Stretch(from_min=780, until_min=900),))
    assert "; dry for 2 h (Mon 19:00 to Mon 21:00); " in sentence(
        once, Lasting(8, 8), WET, 0, NAMING
    )
    twice = replace(once, dry=(*once.dry, Stretch(from_min=950, until_min=955)))
    assert "dry for 2 h 5 min (longest Mon 19:00 to Mon 21:00)" in sentence(
        twice, Lasting(8, 8), WET, 0, NAMING
    )


def test_a_dry_surface_is_never_said_to_need_nobody() -> None:
    dry = replace(found(), dry=(Stretch(from_min=900, until_min=901),))
    assert "nobody" not in sentence(dry, Lasting(8, 8), WET, 0, NAMING)


def test_a_film_and_a_filling_beyond_the_plan() -> None:
    film = sentence(replace(found(), rewets=0), Lasting(), FILM, 0, NAMING)
    assert film.startswith("Nothing to re-wet once it is on; 2.3 crew hours")
    beyond = sentence(found(), Lasting(), WET, 0, NAMING)
    assert beyond.startswith("One wetting lasts beyond the plan; 1 re-wetting")


def test_a_cover_that_never_gets_on_says_so() -> None:
    never = replace(found(), covered_min=None, missed=(lay(), lay()))
    words = sentence(never, Lasting(), WET, 0, NAMING)
    assert words.startswith("It cannot be covered within the plan; ")
    assert "2 duties left undone" in words


def test_hours_outside_the_weather_limits_are_told() -> None:
    words = sentence(found(), Lasting(8, 8), WET, 5, NAMING)
    assert "; 5 h outside its weather limits; " in words


def test_a_timer_is_told_and_its_inspections() -> None:
    flow = AutomaticFlow(water_point_id="tap", from_min=0, until_min=60, flow_l_min=2)
    timer = surface_work(lay(), curve=None, automatic=(flow,))
    words = sentence(replace(found(), rewets=0), Lasting(5, 5), timer, 0, NAMING)
    assert words == (
        "A timer waters it after commissioning; inspect every shift; "
        "2.3 crew hours, 200 L."
    )


def test_of_several_covers_the_fastest_to_dry_is_told() -> None:
    several = replace(NAMING, several=True)
    words = sentence(found(), Lasting(2, 2), WET, 0, several)
    assert words.startswith("Its fastest-drying cover lasts 2.0 h per wetting: ")
