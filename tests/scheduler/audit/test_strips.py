"""Strips of a cover laid beside each other and beside fog, audited by hand.

Two strips of an hour, half of the top each, which dries from minute 420 on; curing is
over at 900, before the cover of 0.8 L/m² dries out.
"""

import pytest

from models.records import Link, Task, Visit
from tests.builders import site
from tests.scheduler.audit.audit_builders import audited, lay, task, visit, work

RED = next(crew for crew in site().crews if crew.id == "red")
BLUE = RED.model_copy(update={"id": "blue", "name": "Blue gang"})
SITE = site().model_copy(update={"crews": (*site().crews, BLUE)})


def strip(number: int, **fields: object) -> Task:
    """One of two strips, each at half of the cover's price."""
    base: dict[str, object] = {
        "id": f"P1-top/lay-{number}", "covers": number == 2, "share_fraction": 0.5,
        "strip": True, "job": "laying", "water": None, "missed_cost": 300,
        "late_cost_per_min": 0.5,
    }  # fmt: skip
    if number == 2:
        base["after"] = (Link(task_id="P1-top/lay-1", from_start=True),)
    return lay("P1-top", **(base | fields))


def fog(**fields: object) -> Task:
    """Half an hour of one person on a quarter of the top."""
    base: dict[str, object] = {
        "kind": "fog", "skills": ("fogger",), "duration_min": 30, "effect": "protect",
        "share_fraction": 0.25, "job": "laying",
    }  # fmt: skip
    return task("fog", "P1-top", **(base | fields))


def by_blue(name: str, start: int, minutes: int) -> Visit:
    return visit(name, start, minutes, crew_id="blue", shift_id="blue/day/2027-05-03")


def kinds(visits: list[Visit], *tasks: Task) -> set[str]:
    report = audited(visits, [work(tasks=tasks, ends_min=900)], where=SITE)
    return {finding.kind for finding in report.violations}


def test_what_no_strip_and_no_fog_keeps_wet_is_dry_and_priced_by_its_share() -> None:
    # One strip from 420 to 480, fog beside it until 450, the other strip from 480 on.
    # Strips count from their middle: three quarters are dry until 450 and a half until
    # 510, 22.5 + 30 min of the whole at 3. The second strip is done at 540, due at 480:
    # 60 min at 0.5.
    visits = [visit("lay-1", 420, 60), by_blue("fog", 420, 30), visit("lay-2", 480, 60)]
    asked = work(tasks=(strip(1), strip(2), fog()), ends_min=900)
    report = audited(visits, [asked], where=SITE)
    assert not report.violations
    assert report.dry_min == 90
    assert report.cost_by_part["dry"] == pytest.approx(52.5 * 3)
    assert report.cost_by_part["late"] == pytest.approx(30)
    (bare,) = report.dry_shares
    # 52.5 min of 300 m².
    assert bare.area_time_m2_h == pytest.approx(52.5 / 60 * 300)


def test_strips_at_once_keep_all_of_it_wet_from_their_middle() -> None:
    # From 420 to 450.
    visits = [visit("lay-1", 420, 60), by_blue("lay-2", 420, 60)]
    report = audited(
        visits, [work(tasks=(strip(1), strip(2)), ends_min=900)], where=SITE
    )
    assert not report.violations
    assert report.dry_min == 30


def test_a_strip_that_is_never_followed_leaves_its_share_dry() -> None:
    # All of the top from 420 to 450, half of it to the end of curing at 900, at 3; the
    # other strip is missed.
    asked = work(tasks=(strip(1), strip(2)), ends_min=900)
    report = audited([visit("lay-1", 420, 60)], [asked], where=SITE)
    assert report.dry_min == 480
    assert report.cost_by_part["dry"] == pytest.approx((30 + 450 * 0.5) * 3)
    assert report.cost_by_part["missed"] == 300


def test_a_strip_begins_no_sooner_than_the_one_before() -> None:
    both = strip(1), strip(2)
    assert kinds([visit("lay-1", 420, 60), by_blue("lay-2", 419, 60)], *both) == {
        "order"
    }
    assert kinds([visit("lay-1", 420, 60), by_blue("lay-2", 420, 60)], *both) == set()


@pytest.mark.parametrize(("first", "second"), [("", ""), ("laying", "lifting")])
def test_visits_at_once_that_are_not_of_one_job_are_refused(
    first: str, second: str
) -> None:
    visits = [visit("lay-1", 420, 60), by_blue("lay-2", 479, 60)]
    assert kinds(visits, strip(1, job=first), strip(2, job=second)) == {"overlap"}
    apart = [visit("lay-1", 420, 60), by_blue("lay-2", 480, 60)]
    assert kinds(apart, strip(1, job=first), strip(2, job=second)) == set()


def test_a_visit_of_another_job_waits_for_the_longest_of_several() -> None:
    # Strips until 480 and 490; a look at 485 is beside the second of them.
    long = strip(2, duration_min=70)
    look = task("look")
    visits = [visit("lay-1", 420, 60), by_blue("lay-2", 420, 70)]
    assert kinds([*visits, visit("look", 485, 10)], strip(1), long, look) == {"overlap"}
    assert kinds([*visits, visit("look", 490, 10)], strip(1), long, look) == set()
