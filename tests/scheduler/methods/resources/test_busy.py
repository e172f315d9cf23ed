"""Other work of gangs. Minute 0 is Monday 06:00; P1 is placed from 60 to 300."""

from datetime import timedelta

import pytest

from models.local_clock import WeekClock
from models.records import Busy, Party, Pour, SiteInput
from scheduler.audit.replayed.other_work import other_work
from scheduler.methods.resources.busy import busy_stretches
from scheduler.methods.resources.gangs import Gangs
from scheduler.methods.resources.shifts import crew_shifts
from scheduler.methods.surfaces import planning_grid, surfaces_of
from tests.builders import MONDAY, site_input
from tests.scheduler.methods.methods_builders import TAKES_COVER_H, hydration

Told = dict[str, list[tuple[int, int, str]]]
PAIRS = tuple(Party(id=f"red {n}", name=f"pair {n}", people=2) for n in (1, 2))
# P1 is over at 300 and takes a cover some hours later.
FINISHED = 300 + round(60 * TAKES_COVER_H)


def busy(from_min: int, until_min: int, why: str = "") -> Busy:
    minutes = (timedelta(minutes=minute) for minute in (from_min, until_min))
    from_at, until_at = (MONDAY + each for each in minutes)
    return Busy(from_at=from_at, until_at=until_at, why=why)


def folder(pour: dict[str, object], **red: object) -> SiteInput:
    given = site_input()
    first, *others = given.site.crews
    crews = (first.model_copy(update=red), *others)
    pours: tuple[Pour, ...] = (given.pours[0].model_copy(update=pour),)
    site = given.site.model_copy(update={"crews": crews})
    return given.model_copy(update={"site": site, "pours": pours})


def told(given: SiteInput) -> Told:
    """What each crew is busy with, which the audit must count alike."""
    clock1 = hydration(surfaces_of(given), planning_grid(given))
    planned = busy_stretches(given, clock1)
    clock = WeekClock(given.site.timezone, given.horizon)
    counted = other_work(given, clock1, clock)
    found = {
        name: [(b.from_min, b.until_min, b.doing) for b in own]
        for name, own in planned.items()
    }
    assert found == {name: [tuple(one) for one in own] for name, own in counted.items()}
    return found


def test_a_gang_is_on_its_pour_until_that_can_be_covered() -> None:
    doing = (60, FINISHED, "placing and finishing P1")
    assert told(folder({"crew_id": "red"})) == {"red": [doing]}
    assert told(folder({"crew_id": None})) == {}


def test_its_parties_are_on_it_too() -> None:
    found = told(folder({"crew_id": "red"}, parties=PAIRS))
    assert list(found) == ["red", "red 1", "red 2"]
    assert len({tuple(own) for own in found.values()}) == 1


def test_what_was_covered_is_finished() -> None:
    covered = {"crew_id": "red", "covered_at": MONDAY + timedelta(minutes=320)}
    assert told(folder(covered))["red"][0][:2] == (60, 320)


def test_a_gang_lacks_its_busy_party_and_a_party_goes_with_its_gang() -> None:
    first = PAIRS[0].model_copy(update={"busy": (busy(100, 200, "bar fixing"),)})
    own = (busy(400, 500),)
    found = told(folder({}, parties=(first, PAIRS[1]), busy=own))
    fixing, other = (100, 200, "busy (bar fixing)"), (400, 500, "busy")
    assert found == {
        "red": [fixing, other], "red 1": [fixing, other], "red 2": [other],
    }  # fmt: skip


def test_a_shift_knows_the_other_work_that_meets_it() -> None:
    # The day is from 60 to 660, with overtime until 720.
    given = folder({}, busy=(busy(0, 60), busy(700, 800), busy(720, 800)))
    stretches = busy_stretches(given, hydration((), planning_grid(given)))
    shifts = crew_shifts(given.site, given.horizon, stretches)
    monday = next(shift for shift in shifts if shift.id == "red/day/2027-05-03")
    assert [(b.from_min, b.until_min) for b in monday.busy] == [(700, 800)]


@pytest.mark.parametrize(("until_min", "people"), [(300, 0), (299, 4)])
def test_a_gang_that_is_busy_throughout_is_not_at_work(
    until_min: int, people: int
) -> None:
    given = folder({}, busy=(busy(200, until_min),))
    stretches = busy_stretches(given, hydration((), planning_grid(given)))
    shifts = crew_shifts(given.site, given.horizon, stretches)
    gangs = Gangs(given.site.teams, shifts)
    assert gangs.all_on_shift("labourer", 200, 300) == people
