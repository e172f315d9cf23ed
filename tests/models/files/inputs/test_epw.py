"""EPW: hours that end, standard time, mixed years, codes for missing values.

The files are made up here; each hour's temperature tells which line it came from.
"""

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from itertools import pairwise
from pathlib import Path

import pytest

from models.files.site_folder import read_site
from tests.models.files.folders import SITE, changed, write_site
from tests.models.files.problem_lines import lines, only

HEADER = (
    "LOCATION,Heron Wharf,-,-,made up,000000,52.0,9.0,{offset},60.0\n"
    "DESIGN CONDITIONS,0\nTYPICAL/EXTREME PERIODS,0\nGROUND TEMPERATURES,0\n"
    "HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0\nCOMMENTS 1,\nCOMMENTS 2,\n"
    "DATA PERIODS,1,{per_hour},Data,Sunday, 1/ 1,12/31\n"
)

Change = Callable[[datetime, list[str]], list[str]]


def unchanged(ends: datetime, cells: list[str]) -> list[str]:
    del ends
    return cells


def epw(change: Change = unchanged, offset: str = "1.0", per_hour: int = 1) -> bytes:
    """A year of 8760 hours: temperature = day of the month + hour / 100.

    Solar is the hour's number, 1 to 24; the year differs from month to month.
    """
    rows = []
    begins = datetime(2001, 1, 1)  # noqa: DTZ001 - the file's own standard time
    for index in range(8760):
        at = begins + timedelta(hours=index)
        hour = at.hour + 1
        year = 1990 + at.month  # a typical year is put together from many
        cells = [
            str(year), str(at.month), str(at.day), str(hour), "60", "flags",
            f"{at.day + hour / 100:.2f}", "9.0", "62", "101300", "0", "0", "300",
            str(hour), "0", "0", "0", "0", "0", "0", "180", "3.4", "7", "6", "20",
            "2000", "9", "999999999", "10", "0.1", "0", "88", "0.2", "0.4", "1",
        ]  # fmt: skip
        rows.append(",".join(change(at + timedelta(hours=1), cells)))
    header = HEADER.format(offset=offset, per_hour=per_hour)
    # The name of the place in an old encoding: only numbers are used.
    return (
        header.replace("Wharf", "Wharf é").encode("latin-1") + "\n".join(rows).encode()
    )


def site_with(folder: Path, data: bytes, site: str = SITE) -> Path:
    files: dict[str, str | bytes | None] = {
        "site.toml": site, "weather.csv": None, "year.epw": data,
    }  # fmt: skip
    return write_site(folder, files)


def test_an_hour_ends_where_its_line_says_in_standard_time(tmp_path: Path) -> None:
    weather = read_site(site_with(tmp_path, epw())).weather
    assert weather.wind_height_m == 10
    by_time = {hour.at: hour for hour in weather.hours}
    # 3 May, 12:00 by the clock in summer is 10:00 UTC, 11:00 in standard time: the end
    # of hour 11 of day 3. Sun and rain of the hour that then begins are on line 12.
    noon = by_time[datetime(2027, 5, 3, 10, tzinfo=UTC)]
    assert noon.air_temperature_c == pytest.approx(3.11)
    assert noon.solar_w_m2 == 12
    assert noon.humidity_fraction == pytest.approx(0.62)
    assert noon.wind_m_s == 3.4
    assert noon.cloud_fraction == pytest.approx(0.7)
    assert noon.rain_mm == 0.4
    # Midnight in standard time is the end of hour 24 of the day before.
    midnight = by_time[datetime(2027, 5, 3, 23, tzinfo=UTC)]
    assert midnight.air_temperature_c == pytest.approx(3.24)
    assert midnight.solar_w_m2 == 1


def test_the_site_may_know_better_how_high_the_wind_was_measured(
    tmp_path: Path,
) -> None:
    site = changed(SITE, ("days = 7", "days = 7\nwind_height = 4"))
    assert read_site(site_with(tmp_path, epw(), site)).weather.wind_height_m == 4


def test_hours_are_consecutive_from_the_first_placing_to_beyond_the_week(
    tmp_path: Path,
) -> None:
    read = read_site(site_with(tmp_path, epw()))
    times = [hour.at for hour in read.weather.hours]
    assert times[0] == min(p.placing_starts_at for p in read.pours)
    steps = {b - a for a, b in pairwise(times)}
    assert steps == {timedelta(hours=1)}
    assert times[-1] >= read.horizon.ends_at + timedelta(days=7)


def test_a_zone_with_half_hours_keeps_the_files_own_hours(tmp_path: Path) -> None:
    site = changed(SITE, ("Europe/Berlin", "Asia/Kolkata"))
    hours = read_site(site_with(tmp_path, epw(offset="5.5"), site)).weather.hours
    # Placing begins on 1 May at 09:00 local, 03:30 UTC. The plan may start at the full
    # hour of UTC before it, 08:30 local: reached by the end of hour 8 of day 1.
    assert hours[0].at == datetime(2027, 5, 1, 2, 30, tzinfo=UTC)
    assert hours[0].air_temperature_c == pytest.approx(1.08)


def over_new_year(text: str) -> str:
    return text.replace("2027-05-0", "2027-12-2")


def test_a_plan_over_new_year_wraps_round(tmp_path: Path) -> None:
    site = changed(
        SITE, ("2027-05-03 06:00", "2027-12-28 06:00"), ("2027-05-06", "2027-12-30")
    )
    pours = (
        "pour,zone,element,placing_start,placing_end,area,thickness,mix,method\n"
        "Q1,A,deck,2027-12-28 07:30,2027-12-28 11:30,420,250,C30,burlap_double\n"
    )
    folder = site_with(tmp_path, epw(), site)
    (folder / "pours.csv").write_text(pours)
    (folder / "readings.csv").unlink()
    by_time = {hour.at: hour for hour in read_site(folder).weather.hours}
    new_year = by_time[datetime(2027, 12, 31, 23, tzinfo=UTC)]
    assert new_year.air_temperature_c == pytest.approx(31.24)
    assert new_year.solar_w_m2 == 1
    later = by_time[datetime(2028, 1, 1, 0, tzinfo=UTC)]
    assert later.air_temperature_c == pytest.approx(1.01)


def test_a_leap_day_takes_the_weather_of_the_day_before(tmp_path: Path) -> None:
    site = changed(
        SITE, ("2027-05-03 06:00", "2028-02-28 06:00"), ("2027-05-06", "2028-03-01")
    )
    pours = (
        "pour,zone,element,placing_start,placing_end,area,thickness,mix,method\n"
        "Q1,A,deck,2028-02-28 07:30,2028-02-28 11:30,420,250,C30,burlap_double\n"
    )
    folder = site_with(tmp_path, epw(), site)
    (folder / "pours.csv").write_text(pours)
    (folder / "readings.csv").unlink()
    by_time = {hour.at: hour for hour in read_site(folder).weather.hours}
    leap_noon = by_time[datetime(2028, 2, 29, 11, tzinfo=UTC)]
    assert leap_noon.air_temperature_c == pytest.approx(28.12)
    march = by_time[datetime(2028, 3, 1, 11, tzinfo=UTC)]
    assert march.air_temperature_c == pytest.approx(1.12)


def missing(index: int, code: str, *ends: datetime) -> Change:
    """Put a code in a field of the lines that end at some hours of 2001."""

    def change(at: datetime, cells: list[str]) -> list[str]:
        return [*cells[:index], code, *cells[index + 1 :]] if at in ends else cells

    return change


MAY_5_NOON = datetime(2001, 5, 5, 12)  # noqa: DTZ001 - the file's own standard time
#: Line of the hour that ends then: 8 lines of header, 124 days and 12 hours.
NOON_LINE = 8 + 124 * 24 + 12


@pytest.mark.parametrize(
    ("index", "code", "title", "line"),
    [
        (6, "99.9", "dry bulb temperature", NOON_LINE),
        (8, "999.", "relative humidity", NOON_LINE),
        (21, "999", "wind speed", NOON_LINE),
        # The sun of the hour that ends at noon belongs to the entry of 11:00.
        (13, "9999", "global horizontal radiation", NOON_LINE - 1),
        (6, "", "dry bulb temperature", NOON_LINE),
        (21, "calm", "wind speed", NOON_LINE),
    ],
)
def test_a_missing_value_in_the_plan_is_a_problem(
    tmp_path: Path, index: int, code: str, title: str, line: int
) -> None:
    found = only(site_with(tmp_path, epw(missing(index, code, MAY_5_NOON))))
    assert found.startswith(f"year.epw:{line}, {title}: found ")
    assert code in found
    assert found.endswith("; expected a value for every hour of the plan")


def test_a_missing_value_outside_the_plan_does_no_harm(tmp_path: Path) -> None:
    july = datetime(2001, 7, 1, 12)  # noqa: DTZ001
    after = datetime(2001, 5, 12, 12)  # noqa: DTZ001 - two days after the week
    read = read_site(site_with(tmp_path, epw(missing(6, "99.9", july, after))))
    # Hours go on after the week as far as they are whole.
    assert read.weather.hours[-1].at == datetime(2027, 5, 12, 10, tzinfo=UTC)


@pytest.mark.parametrize(("index", "code"), [(22, "99"), (33, "999")])
def test_sky_and_rain_may_be_missing(tmp_path: Path, index: int, code: str) -> None:
    read = read_site(site_with(tmp_path, epw(missing(index, code, MAY_5_NOON))))
    cloudy = [h for h in read.weather.hours if h.cloud_fraction == 0.5]
    dry = [h for h in read.weather.hours if h.rain_mm == 0]
    assert len(cloudy) == (1 if index == 22 else 0)
    assert len(dry) == (1 if index == 33 else 0)


def test_air_beyond_saturation_counts_as_saturated(tmp_path: Path) -> None:
    # The data dictionary allows up to 110 %.
    read = read_site(site_with(tmp_path, epw(missing(8, "104", MAY_5_NOON))))
    assert max(h.humidity_fraction for h in read.weather.hours) == 1


def test_a_value_out_of_range_is_a_problem(tmp_path: Path) -> None:
    found = only(site_with(tmp_path, epw(missing(21, "80", MAY_5_NOON))))
    assert found.startswith(
        f"year.epw:{NOON_LINE}, wind: found 80; expected a speed from 0"
    )


def test_a_file_of_some_months_does_not_reach(tmp_path: Path) -> None:
    data = b"\n".join(epw().split(b"\n")[: 8 + 120 * 24])
    found = lines(site_with(tmp_path, data))
    assert any("found no line for 05-01 08:00" in line for line in found)


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"", "year.epw:1: missing; expected an EPW file, which begins with"),
        (b"time,wind\n", "year.epw:1: found 'time,wind'; expected an EPW file, which"),
        (epw(per_hour=4), "year.epw:8, DATA PERIODS: found 4 records an hour; "
         "expected"),
        (epw(offset="east"), "year.epw:1, LOCATION: found 'east'; expected hours"),
        (epw(offset="99"), "year.epw:1, LOCATION: found '99'; expected hours"),
    ],
)  # fmt: skip
def test_what_is_no_hourly_epw(tmp_path: Path, data: bytes, said: str) -> None:
    assert only(site_with(tmp_path, data)).startswith(said)


def test_two_weather_files_are_one_too_many(tmp_path: Path) -> None:
    found = only(write_site(tmp_path, {"year.epw": epw()}))
    assert (
        found
        == "year.epw: more than one weather file: year.epw, weather.csv. Keep one of "
        "them"
    )
