"""Bans by the clock, by date, by the forecast. Minute 0 is Monday 06:00 in Berlin."""

from datetime import date, time, timedelta

import pytest

from models.local_clock import WeekClock
from models.records import CrewShift, HeatBan, SiteInput, Stretch, Team
from scheduler.audit.checks.heat_bans import ban_spans
from scheduler.methods.resources.gangs import Gangs
from scheduler.methods.resources.heat_bans import heat_bans
from tests.builders import MONDAY, site_input

NOON = 12 * 60 + 30 - 360  # 12:30 as a minute of Monday


def banned(*bans: HeatBan, warm: dict[int, float] | None = None) -> SiteInput:
    """A week of 20 °C but for the minutes given, which are full hours."""
    given = site_input()
    hours = tuple(
        hour.model_copy(
            update={
                "air_temperature_c": (warm or {}).get(
                    (hour.at - MONDAY) // timedelta(minutes=1), 20.0
                )
            }
        )
        for hour in given.weather.hours
    )
    return given.model_copy(
        update={
            "site": given.site.model_copy(update={"heat_bans": bans}),
            "weather": given.weather.model_copy(update={"hours": hours}),
        }
    )


def both_counts(given: SiteInput) -> list[tuple[int, int]]:
    """Bans as the work list has them, which the audit must count alike."""
    found = [(b.from_min, b.until_min) for b in heat_bans(given)]
    clock = WeekClock(given.site.timezone, given.horizon)
    assert list(ban_spans(given, clock)) == found
    return found


def ban(**fields: object) -> HeatBan:
    base: dict[str, object] = {"starts": time(12, 30), "ends": time(15)}
    return HeatBan.model_validate(base | fields)


def test_a_ban_without_dates_holds_every_day() -> None:
    days = [day * 1440 + NOON for day in range(7)]
    assert both_counts(banned(ban())) == [(at, at + 150) for at in days]


def test_a_ban_holds_from_its_first_day_to_its_last() -> None:
    given = banned(ban(from_date=date(2027, 5, 5), until_date=date(2027, 5, 6)))
    assert both_counts(given) == [
        (day * 1440 + NOON, day * 1440 + NOON + 150) for day in (2, 3)
    ]


@pytest.mark.parametrize(
    ("hour", "holds"), [(11, False), (12, True), (14, True), (15, False)]
)
def test_a_ban_with_a_temperature_looks_at_the_hours_it_touches(
    hour: int, holds: bool
) -> None:
    # 12:30 to 15:00 lies in the hours that begin at 12, 13 and 14
    given = banned(ban(above_c=35), warm={hour * 60 - 360: 35.1})
    assert both_counts(given) == ([(NOON, NOON + 150)] if holds else [])


def test_at_the_limit_it_is_not_yet_too_hot() -> None:
    assert both_counts(banned(ban(above_c=35), warm={14 * 60 - 360: 35.0})) == []


def test_work_is_cut_to_what_bans_and_breaks_leave() -> None:
    red = Team(
        id="red", gang_id="red", name="Red", people=2, home_zone="A", shifts=("day",),
        skills=("labourer", "fogger"),
    )  # fmt: skip
    day = CrewShift(
        id="red/day", crew_id="red", kind="shift", people=2, skills=red.skills,
        home_zone="A", starts_min=0, ends_min=600,
        breaks=(Stretch(from_min=250, until_min=320),),
    )  # fmt: skip
    gangs = Gangs((red,), (day,), (Stretch(from_min=300, until_min=480),))
    assert gangs.longest_stretch_min("fogger") == 250
    assert gangs.cuts("fogger", 0, 600) == (250, 480)
