"""Shifts from their patterns, and the walk to the work."""

from datetime import UTC, datetime, time, timedelta

import pytest

from models.local_clock import WeekClock
from models.records import Break, Crew, Horizon, ShiftPattern, Zone
from scheduler.audit.replayed.windows import CrewWindow, crew_windows, walk_min
from tests.builders import site
from tests.scheduler.audit.audit_builders import HORIZON, site_with

CLOCK = WeekClock("Europe/Berlin", HORIZON)


def of_crew(crew_id: str) -> list[tuple[str, int, int]]:
    windows = crew_windows(site(), CLOCK)
    return [(w.id, w.starts_min, w.ends_min) for w in windows if w.crew.id == crew_id]


def night_of(starts_at: datetime, *breaks: Break) -> CrewWindow:
    """One crew's night from 22:00 to 06:00 on the first evening."""
    horizon = Horizon(starts_at=starts_at, ends_at=starts_at + timedelta(days=1))
    pattern = ShiftPattern(
        id="night", days=("sat",), starts=time(22), ends=time(6), breaks=breaks
    )
    owl = Crew(id="owl", name="Owls", people=2, home_zone="A", shifts=("night",))
    where = site_with(shifts=(pattern,), crews=(owl,))
    return crew_windows(where, WeekClock("Europe/Berlin", horizon))[0]


def test_the_day_shift_runs_from_seven_to_five() -> None:
    # 07:00 is minute 60, 17:00 minute 660; three weekdays.
    assert of_crew("red") == [
        ("red/day/2027-05-03", 60, 660),
        ("red/day/2027-05-04", 1500, 2100),
        ("red/day/2027-05-05", 2940, 3540),
    ]


def test_the_night_shift_crosses_midnight_and_nobody_works_the_one_before_monday() -> (
    None
):
    # 22:00 is minute 960, 06:00 of the next day 1440; Sunday night is not worked.
    assert [window[1:] for window in of_crew("owl")] == [
        (960, 1440), (2400, 2880), (3840, 4320),
    ]  # fmt: skip


def test_overtime_is_the_crew_s_and_a_call_out_has_none() -> None:
    weekend = Horizon(
        starts_at=HORIZON.starts_at, ends_at=HORIZON.starts_at + timedelta(days=7)
    )
    windows = crew_windows(site(), WeekClock("Europe/Berlin", weekend))
    day = next(w for w in windows if w.pattern.id == "day")
    call = next(w for w in windows if w.pattern.id == "call")
    assert (day.closes_min, call.closes_min) == (720, call.ends_min)


# The change is in the night from Saturday to Sunday; see test_site_clock.py.
@pytest.mark.parametrize(
    ("starts_at", "length_min"),
    [
        (datetime(2027, 3, 27, 5, tzinfo=UTC), 420),
        (datetime(2027, 10, 30, 4, tzinfo=UTC), 540),
        (datetime(2027, 5, 8, 4, tzinfo=UTC), 480),
    ],
    ids=["spring", "autumn", "plain"],
)
def test_a_night_through_a_clock_change(starts_at: datetime, length_min: int) -> None:
    # A break at 02:00: 20 h after 06:00 on a plain night; in spring 02:00 does not
    # exist and means 03:00, 20 h after it; in autumn the first 02:00 is 20 h after it.
    window = night_of(starts_at, Break(starts=time(2), ends=time(2, 30)))
    assert window.ends_min - window.starts_min == length_min
    assert window.breaks == ((1200, 1230),)


def test_a_break_before_midnight_is_on_the_first_day() -> None:
    start = datetime(2027, 5, 8, 4, tzinfo=UTC)
    window = night_of(start, Break(starts=time(23, 50), ends=time(0, 20)))
    assert window.breaks == ((1070, 1100),)


def test_walking_is_straight_rounded_up_and_climbs_stairs() -> None:
    # 120 m at 0.5 m/s are 240 s: 4 min exactly; 121 m are 5; another level adds 5.
    zones = (
        *site().zones,
        Zone(id="C", name="C", x_m=0, y_m=121, water_points=("tap",)),
        Zone(id="D", name="D", level="1", x_m=0, y_m=0, water_points=("tap",)),
    )
    where = site_with(zones=zones)
    assert walk_min(where, "A", "B") == 4
    assert walk_min(where, "A", "C") == 5
    assert walk_min(where, "D", "A") == 5
    assert walk_min(where, "A", "A") == 3


def test_two_zones_side_by_side_are_no_nearer_than_two_surfaces_of_one() -> None:
    near = Zone(id="N", name="N", x_m=10, y_m=0, water_points=("tap",))
    assert walk_min(site_with(zones=(*site().zones, near)), "A", "N") == 3
