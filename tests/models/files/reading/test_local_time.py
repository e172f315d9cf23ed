"""Local clock times against the published rules of two zones.

Europe/Berlin, 2027: forward on 28 March from 02:00 to 03:00, back on 31 October from
03:00 to 02:00 (last Sundays, Directive 2000/84/EC, from memory).
"""

from datetime import UTC, date, datetime, time, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.files.inputs.site_toml import horizon_of
from models.files.reading.local_time import LocalTime, read_clock
from models.files.reading.problems import ValueRefused

BERLIN = LocalTime("Europe/Berlin")


@pytest.mark.parametrize(
    "written",
    [
        "2027-06-07T06:00", "2027-06-07 06:00", "2027-06-07 06:00:00",
        "2027-06-07T06:00+02:00", "2027-06-07T04:00Z", " 2027-06-07 09:30 +05:30 ",
        datetime(2027, 6, 7, 6, 0),  # noqa: DTZ001 - as TOML gives a local datetime
        datetime(2027, 6, 7, 1, 0, tzinfo=timezone(timedelta(hours=-3))),
    ],
)  # fmt: skip
def test_one_instant_in_many_spellings(written: object) -> None:
    read = BERLIN.instant(written)
    assert read == datetime(2027, 6, 7, 4, 0, tzinfo=UTC)
    assert read.tzinfo is UTC


def test_winter_time_has_the_other_offset() -> None:
    assert BERLIN.instant("2027-01-11 06:00").hour == 5


@pytest.mark.parametrize(
    ("written", "hint"),
    [
        ("7/6/2027", "either way; write the year first"),
        ("07.06.2027 06:00", "either way; write the year first"),
        ("07-06-27", "either way; write the year first"),
        ("2027-06-07", "The clock time is missing"),
        ("2027-13-07 06:00", "No such day or hour"),
        ("2027-02-29 06:00", "No such day or hour"),
        ("2027-06-07 24:00", "No such day or hour"),
        ("2027-6-7 6:00", ""),
        ("20270607T0600", ""),
        ("tomorrow", ""),
        (date(2027, 6, 7), "The clock time is missing"),
        (46545.25, ""),
        (True, ""),
    ],
)
def test_what_is_no_iso_instant_is_refused(written: object, hint: str) -> None:
    with pytest.raises(ValueRefused, match="a date and time such as") as refused:
        BERLIN.instant(written)
    assert hint in refused.value.hint


@pytest.mark.parametrize("written", ["1999-12-31 12:00", "2100-01-01 00:00"])
def test_a_year_out_of_reach_is_a_slip(written: str) -> None:
    with pytest.raises(ValueRefused, match="a year from 2000 to 2099"):
        BERLIN.instant(written)


def test_a_time_the_clocks_skip_says_so() -> None:
    with pytest.raises(ValueRefused, match="a time that exists in Europe/Berlin") as no:
        BERLIN.instant("2027-03-28 02:30")
    assert "The clocks skip it" in no.value.hint


def test_a_time_shown_twice_must_carry_its_offset() -> None:
    with pytest.raises(ValueRefused, match=r"an offset after it: \+02:00 or \+01:00"):
        BERLIN.instant("2027-10-31 02:30")
    first = BERLIN.instant("2027-10-31 02:30+02:00")
    assert first == datetime(2027, 10, 31, 0, 30, tzinfo=UTC)
    assert BERLIN.instant("2027-10-31 02:30+01:00") - first == timedelta(hours=1)


def test_an_unknown_timezone_is_refused_with_the_nearest() -> None:
    with pytest.raises(ValueRefused, match="an IANA timezone") as no:
        LocalTime("Europe/Berln")
    assert no.value.hint == "Did you mean 'Europe/Berlin'?"


@given(
    st.datetimes(datetime(2000, 1, 2), datetime(2099, 12, 30)),  # noqa: DTZ001
    st.sampled_from(["Europe/Berlin", "Asia/Kolkata", "America/St_Johns", "UTC"]),
)
def test_an_instant_comes_back_through_the_clock_on_the_wall(
    moment: datetime, name: str
) -> None:
    local, at = LocalTime(name), moment.replace(tzinfo=UTC)
    assert local.of_wall(local.wall(at), first_of_two=True) in (
        at,
        at - timedelta(hours=1),  # the second showing of an hour in autumn
    )


@pytest.mark.parametrize(
    ("written", "read"),
    [("06:00", time(6)), (" 23:59 ", time(23, 59)), (time(7, 30), time(7, 30))],
)
def test_clock_times(written: object, read: time) -> None:
    assert read_clock(written) == read


@pytest.mark.parametrize("written", ["6:00", "24:00", "06.00", "6am", 6, None])
def test_what_is_no_clock_time_is_refused(written: object) -> None:
    with pytest.raises(ValueRefused, match="a clock time such as 06:00"):
        read_clock(written)


@pytest.mark.parametrize(
    ("week_start", "hours"),
    [("2027-06-07 06:00", 168), ("2027-03-22 06:00", 167), ("2027-10-25 06:00", 169)],
)
def test_a_week_is_seven_days_of_the_calendar(week_start: str, hours: int) -> None:
    horizon = horizon_of(BERLIN.instant(week_start), 7, BERLIN)
    assert horizon.length_min == hours * 60
    assert BERLIN.words(horizon.ends_at)[-5:] == "06:00"


def test_a_plan_cannot_end_at_a_time_the_clocks_skip() -> None:
    with pytest.raises(ValueRefused, match="a time that exists"):
        horizon_of(BERLIN.instant("2027-03-21 02:30"), 7, BERLIN)


def test_a_plan_that_ends_at_a_time_shown_twice_ends_at_the_first() -> None:
    horizon = horizon_of(BERLIN.instant("2027-10-24 02:30"), 7, BERLIN)
    assert horizon.length_min == 168 * 60
