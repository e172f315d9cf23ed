"""Who can be sent, and for how long."""

from datetime import timedelta

import pytest

from models.files.inputs.pairs import all_in_pairs
from models.records import BusyStretch, Horizon, Stretch
from scheduler.methods.resources.gangs import Gangs
from scheduler.methods.resources.shifts import crew_shifts
from tests.builders import MONDAY, site

WEEK = Horizon(starts_at=MONDAY, ends_at=MONDAY + timedelta(days=7))
GANGS = Gangs(site().teams, crew_shifts(site(), WEEK))


def test_largest_and_smallest_gang_with_a_skill() -> None:
    assert (GANGS.largest("labourer"), GANGS.smallest("labourer")) == (4, 2)
    assert (GANGS.largest("fogger"), GANGS.smallest("fogger")) == (4, 4)


def test_the_gang_that_is_at_work() -> None:
    """By day the red gang of 4, by night the pair; in the evening nobody: any."""
    assert GANGS.on_shift("labourer", 120, 180) == 4
    assert GANGS.on_shift("labourer", 1000, 1060) == 2
    assert GANGS.on_shift("labourer", 700, 760) == 4


def test_the_smallest_that_can_of_those_at_work() -> None:
    """The pair of the night does not count by day, but where nobody is at work."""
    assert GANGS.hands("labourer", 2, 120, 180) == 4
    assert GANGS.hands("labourer", 2, 1000, 1060) == 2
    assert GANGS.hands("labourer", 3, 1000, 1060) == 4
    assert GANGS.hands("labourer", 2, 700, 760) == 2
    assert GANGS.hands("labourer", 5, 120, 180) == 5, "nobody has so many"


def test_parties_are_not_counted_beside_their_gang() -> None:
    crews = all_in_pairs(site().crews, site().shifts)
    where = site().model_copy(update={"crews": crews})
    pairs = Gangs(where.teams, crew_shifts(where, WEEK))
    assert pairs.hands("labourer", 2, 120, 180) == 2
    assert pairs.hands("labourer", 3, 120, 180) == 4
    assert pairs.all_on_shift("labourer", 120, 180) == 4
    assert pairs.all_on_shift("fogger", 1000, 1060) == 0


def test_the_longest_stretch_lies_between_breaks_or_in_the_night() -> None:
    """Day 07:00-12:00 and 12:30-17:00; the night shift has no break: 8 h."""
    assert GANGS.longest_stretch_min("labourer") == 480
    assert GANGS.longest_stretch_min("labourer", people=3) == 300
    assert GANGS.longest_stretch_min("fogger") == 300


def test_nobody_has_the_skill() -> None:
    none = Gangs((), ())
    assert (none.largest("sprayer"), none.longest_stretch_min("sprayer")) == (0, 0)
    assert none.on_shift("sprayer", 0, 60) == 0


def test_cuts_are_where_shifts_and_breaks_change() -> None:
    assert GANGS.cuts("fogger", 0, 700) == (60, 360, 390, 660)


def test_call_outs_count_only_where_nobody_is_on_shift() -> None:
    """On call 06:00 to 22:00 at the weekend, with a break every six hours."""
    called = tuple(s for s in GANGS.shifts if s.kind == "on_call")
    assert Gangs(site().teams, called).longest_stretch_min("labourer") == 360


def soonest(from_min: int, takes_min: int, people: int = 2, zone: str = "A") -> int:
    walks = {("A", "A"): 3, ("A", "B"): 5}
    gangs = Gangs(site().teams, GANGS.shifts, walks_min=walks)
    found = gangs.soonest_end_min("labourer", people, zone, from_min, takes_min)
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("from_min", "takes_min", "people", "end_min"),
    [
        (100, 60, 4, 160),
        (320, 40, 4, 360),  # just before the break, 360 to 390
        (321, 40, 4, 430),  # a minute too late: after it
        (0, 60, 4, 123),  # from 60 on, and 3 min to walk
        (680, 40, 4, 720),  # into the hour of overtime
        (681, 40, 4, 1500 + 3 + 40),  # then on Tuesday
        (681, 40, 2, 960 + 3 + 40),  # a pair of the night can
    ],
)
def test_the_soonest_end_lies_where_people_work(
    from_min: int, takes_min: int, people: int, end_min: int
) -> None:
    assert soonest(from_min, takes_min, people) == end_min


def test_the_soonest_end_waits_for_other_zones_bans_and_other_work() -> None:
    assert soonest(0, 60, 4, "B") == 60 + 5 + 60
    banned = Gangs(site().teams, GANGS.shifts, (Stretch(from_min=100, until_min=300),))
    # 300 to 360 is the hour between ban and break
    assert banned.soonest_end_min("labourer", 4, "A", 90, 60) == 360
    assert banned.soonest_end_min("labourer", 4, "A", 90, 61) == 390 + 61
    own = tuple(
        shift.model_copy(
            update={"busy": (BusyStretch(from_min=0, until_min=1000, doing="placing"),)}
        )
        for shift in GANGS.shifts
        if shift.kind == "shift"
    )
    busy = Gangs(site().teams, own)
    assert busy.soonest_end_min("labourer", 2, "A", 90, 60) == 1000 + 60


def test_what_takes_longer_than_anybody_works_has_no_end() -> None:
    # 8 h of the night are the longest; no walks are known here
    assert GANGS.soonest_end_min("labourer", 2, "A", 0, 480) == 1440
    assert GANGS.soonest_end_min("labourer", 2, "A", 0, 481) is None
    assert GANGS.soonest_end_min("labourer", 5, "A", 0, 10) is None
    on_call = tuple(shift for shift in GANGS.shifts if shift.kind == "on_call")
    called = Gangs(site().teams, on_call)
    assert called.soonest_end_min("labourer", 2, "A", 0, 10) is None
