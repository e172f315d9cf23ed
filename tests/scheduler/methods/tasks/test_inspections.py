"""Looks per shift and on days off."""

from models.records import SiteInput, Task
from tests.builders import profile, site_input
from tests.scheduler.methods.methods_builders import by_name, work_of


def looks(given: SiteInput | None = None, curing_h: float = 200) -> dict[str, Task]:
    named = by_name(work_of(given, curing_h=curing_h))
    return {n.removeprefix("look/"): t for n, t in named.items() if "look/" in n}


def asking(per_shift: int, per_day_off: int) -> SiteInput:
    rule = profile().model_copy(
        update={
            "inspections_per_shift": per_shift,
            "inspections_per_non_working_day": per_day_off,
        }
    )
    return site_input().model_copy(update={"profiles": {"seven_days": rule}})


def test_every_shift_and_every_day_off_from_the_cover_on() -> None:
    """Covered on Monday at 16:36 local: less than half of that day shift is left."""
    assert list(looks()) == [
        "2027-05-03-night", "2027-05-04-day", "2027-05-04-night", "2027-05-05-day",
        "2027-05-05-night", "2027-05-06-day", "2027-05-06-night", "2027-05-07-day",
        "2027-05-07-night", "2027-05-08", "2027-05-09",
    ]  # fmt: skip


def test_the_window_of_a_look_is_its_shift() -> None:
    """Tuesday's day shift is 07:00 to 17:00 local; Saturday's daylight 06-20.

    The night shift before it ends at 06:00: each gives up 15 min, so that looks lie 90
    min apart.
    """
    found = looks()
    tuesday, saturday = found["2027-05-04-day"], found["2027-05-08"]
    assert (tuesday.earliest_min, tuesday.latest_min) == (1515, 2100)
    assert found["2027-05-03-night"].latest_min == 1440 - 15
    # Friday's night shift ends at 06:00, where Saturday's daylight begins.
    assert (saturday.earliest_min, saturday.latest_min) == (7200 + 45, 8040)


def test_two_a_shift_lie_in_its_halves_90_minutes_apart() -> None:
    found = looks(asking(2, 1))
    halves = [
        (t.earliest_min, t.latest_min)
        for n, t in found.items()
        if n.startswith("2027-05-04-day")
    ]
    assert halves == [(1515, 1800 - 45), (1800 + 45, 2100)]


def test_none_where_the_profile_asks_for_none() -> None:
    assert not looks(asking(0, 0))
    assert list(looks(asking(0, 1))) == ["2027-05-08", "2027-05-09"]


def test_none_after_curing() -> None:
    """Curing ends after 30 h, Tuesday 17:00 local, with that day shift."""
    assert list(looks(curing_h=30)) == ["2027-05-03-night", "2027-05-04-day"]


def test_at_night_other_cautions_and_a_lamp() -> None:
    night = looks()["2027-05-03-night"]
    assert night.tools == ("lamp", "log")
    assert night.cautions[0].startswith("Dark:")
