"""Who can be sent, and for how long."""

from datetime import timedelta

from models.files.inputs.pairs import all_in_pairs
from models.records import Horizon
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
