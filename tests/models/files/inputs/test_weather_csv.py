"""Hours of weather: consecutive, complete, in percent, with a height for the wind."""

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from models.files.site_folder import read_site
from tests.models.files.folders import (
    SITE,
    WEATHER_FROM,
    WEATHER_HOURS,
    changed,
    weather_csv,
    write_site,
)
from tests.models.files.problem_lines import lines, only

HEADER = "time,air_temperature,humidity,wind,solar,cloud,rain"


def test_values_are_read_in_their_bare_units(tmp_path: Path) -> None:
    weather = read_site(write_site(tmp_path)).weather
    assert weather.wind_height_m == 2
    assert len(weather.hours) == 13 * 24
    first, noon = weather.hours[0], weather.hours[12]
    assert first.at == datetime(2027, 4, 30, 22, tzinfo=UTC)
    # At 12:00 the sine of 2π(12-9)/24 is 1/√2:
    # 16 + 4.95 °C, 60 - 14.1 %, 3.5 + 1.06 m/s
    assert noon.air_temperature_c == pytest.approx(20.9)
    assert noon.humidity_fraction == pytest.approx(0.46)
    assert noon.wind_m_s == pytest.approx(4.6)
    assert noon.cloud_fraction == pytest.approx(0.2)
    assert first.rain_mm == 0


def test_other_units_may_stand_in_the_cells(tmp_path: Path) -> None:
    lines = weather_csv().splitlines()
    lines[2] = "2027-05-01T00:00,68 degF,0.5 %,10 km/h,0,1 %,0.1 in"
    hour = read_site(
        write_site(tmp_path, {"weather.csv": "\n".join(lines)})
    ).weather.hours[0]
    assert hour.air_temperature_c == pytest.approx(20)
    assert hour.humidity_fraction == pytest.approx(0.005)
    assert hour.wind_m_s == pytest.approx(10 / 3.6)
    assert hour.rain_mm == pytest.approx(2.54)


def without(*numbers: int) -> str:
    """The sample without some lines of the file, counted from 1."""
    lines = weather_csv().splitlines(keepends=True)
    return "".join(line for n, line in enumerate(lines, 1) if n not in numbers)


# Line 3 of the file is 2027-05-01 00:00, so line 3 + n is n hours later.
def test_a_missing_hour_is_one_problem(tmp_path: Path) -> None:
    assert only(write_site(tmp_path, {"weather.csv": without(53)})) == (
        "weather.csv:53, time: found 2027-05-03 03:00; expected 2027-05-03 02:00, the "
        "next hour. 1 hour is missing"
    )


def test_a_missing_day_is_one_problem(tmp_path: Path) -> None:
    text = without(*range(51, 75))
    assert "24 hours are missing" in only(write_site(tmp_path, {"weather.csv": text}))


def test_an_hour_twice_is_one_problem(tmp_path: Path) -> None:
    lines = weather_csv().splitlines()
    lines.insert(30, lines[29])
    assert only(write_site(tmp_path, {"weather.csv": "\n".join(lines)})) == (
        "weather.csv:31, time: duplicate hour, 2027-05-02 03:00"
    )


def test_an_hour_out_of_order(tmp_path: Path) -> None:
    lines = weather_csv().splitlines()
    lines[100:102] = [lines[101].replace("2027-05", "2027-04"), lines[101]]
    found = only(write_site(tmp_path, {"weather.csv": "\n".join(lines)}))
    assert found == (
        "weather.csv:101, time: found 2027-04-05 03:00; expected an hour after "
        "2027-05-05 01:00"
    )


def test_a_stretch_that_stands_twice_is_one_problem(tmp_path: Path) -> None:
    lines = weather_csv().splitlines()
    lines[50:50] = lines[40:50]
    found = only(write_site(tmp_path, {"weather.csv": "\n".join(lines)}))
    assert found.startswith("weather.csv:51, time: duplicate hour, 2027-05-02 14:00")


def test_a_half_hour_is_no_full_hour(tmp_path: Path) -> None:
    text = changed(weather_csv(), ("2027-05-08T09:00", "2027-05-08T09:30"))
    found = only(write_site(tmp_path, {"weather.csv": text}))
    assert found.endswith("time: found 2027-05-08 09:30; expected a full hour")


def test_hours_of_utc_do_where_the_zone_is_half_an_hour_off(tmp_path: Path) -> None:
    """In India full hours of UTC are half hours on the clock."""
    utc = [
        f"{line[:16]}Z{line[16:]}" if line[:2] == "20" else line
        for line in weather_csv().splitlines()
    ]
    files: dict[str, str | bytes | None] = {
        "site.toml": SITE.replace("Europe/Berlin", "Asia/Kolkata"),
        "weather.csv": "\n".join(utc),
    }
    first = read_site(write_site(tmp_path, files)).weather.hours[0]
    assert first.at == datetime(2027, 5, 1, 0, tzinfo=UTC)


def test_an_hour_that_the_clocks_skip_is_one_problem(tmp_path: Path) -> None:
    """Forward on 28 March: the row between 01:00 and 03:00 says 02:00."""
    site = SITE.replace("2027-05-03 06:00", "2027-03-26 06:00")
    pours = (
        "pour,zone,element,placing_start,placing_end,area,thickness,mix,method\n"
        "Q1,A,deck,2027-03-26 07:30,2027-03-26 11:30,420,250,C30,burlap_double\n"
    )
    rows = weather_csv(datetime(2027, 3, 26), 9 * 24)  # noqa: DTZ001
    files: dict[str, str | bytes | None] = {
        "site.toml": site, "pours.csv": pours, "readings.csv": None,
        "weather.csv": rows,
    }  # fmt: skip
    found = only(write_site(tmp_path, files))
    assert "found '2027-03-28T02:00'; expected a time that exists" in found


def test_a_time_that_cannot_be_read_is_one_problem(tmp_path: Path) -> None:
    text = changed(weather_csv(), ("2027-05-08T09:00", "8.5.2027 9:00"))
    found = only(write_site(tmp_path, {"weather.csv": text}))
    assert "time: found '8.5.2027 9:00'; expected a date and time" in found


@pytest.mark.parametrize(
    ("starts", "hours", "found"),
    [
        # Placing of W1 begins on 1 May at 09:00; the week ends on 10 May at 06:00.
        (datetime(2027, 5, 1), 8 * 24, "2027-05-01 00:00 to 2027-05-09 00:00"),  # noqa: DTZ001
        (datetime(2027, 5, 3), 8 * 24, "2027-05-03 00:00 to 2027-05-11 00:00"),  # noqa: DTZ001
        (datetime(2027, 5, 1, 10), 212, "2027-05-01 10:00 to 2027-05-10 06:00"),  # noqa: DTZ001
        (datetime(2027, 5, 1, 9), 212, "2027-05-01 09:00 to 2027-05-10 05:00"),  # noqa: DTZ001
    ],
)  # fmt: skip
def test_weather_that_does_not_reach_over_the_week(
    tmp_path: Path, starts: datetime, hours: int, found: str
) -> None:
    files = {"weather.csv": weather_csv(starts, hours)}
    assert only(write_site(tmp_path, files)) == (
        f"weather.csv, time: found hours from {found}; expected hours from 2027-05-01 "
        "09:00 to 2027-05-10 06:00. From the first placing, or the start of the week, "
        "to the end of the week"
    )


def test_weather_that_just_reaches(tmp_path: Path) -> None:
    just = weather_csv(datetime(2027, 5, 1, 9), 213)  # noqa: DTZ001
    assert (
        len(read_site(write_site(tmp_path, {"weather.csv": just})).weather.hours) == 213
    )


def test_a_week_with_a_clock_change_has_its_hours(tmp_path: Path) -> None:
    """Back on 31 October: 02:00 comes twice, so those two rows say their offset."""
    site = SITE.replace("2027-05-03 06:00", "2027-10-25 06:00")
    pours = (
        "pour,zone,element,placing_start,placing_end,area,thickness,mix,method\n"
        "Q1,A,deck,2027-10-25 07:30,2027-10-25 11:30,420,250,C30,burlap_double\n"
    )
    start = datetime(2027, 10, 24, 22, tzinfo=UTC)
    rows = ["time,air_temperature,humidity,wind,solar"]
    for index in range(8 * 24):
        at = start + timedelta(hours=index)
        back = datetime(2027, 10, 31, 1, tzinfo=UTC)
        wall = at + timedelta(hours=2 if at < back else 1)
        offset = {-1: "+02:00", 0: "+01:00"}.get((at - back) // timedelta(hours=1), "")
        rows.append(f"{wall:%Y-%m-%d %H:%M}{offset},9,80,3,0")
    files: dict[str, str | bytes | None] = {
        "site.toml": site, "pours.csv": pours, "readings.csv": None,
        "weather.csv": "\n".join(rows),
    }  # fmt: skip
    read = read_site(write_site(tmp_path / "said", files))
    assert read.horizon.length_min == 169 * 60
    assert len(read.weather.hours) == 8 * 24
    files["weather.csv"] = "\n".join(rows).replace("+02:00", "")
    found = only(write_site(tmp_path / "unsaid", files))
    assert "expected an offset after it: +02:00 or +01:00" in found


@pytest.mark.parametrize(
    ("top", "site_line", "height_m"),
    [
        ("# wind height: 2 m\n", "", 2),
        ("# Wind_Height = 10 ft\n", "", 3.048),
        ("# forecast of Sunday\n# wind height 4\n", "", 4),
        ("", "wind_height = 6", 6),
        ("", "", 10),
        ("# wind height: 2 m\n", 'wind_height = "2 m"', 2),
    ],
)
def test_the_wind_has_a_height(
    tmp_path: Path, top: str, site_line: str, height_m: float
) -> None:
    files = {
        "weather.csv": weather_csv(header=top.rstrip()).lstrip(),
        "site.toml": changed(SITE, ("days = 7", f"days = 7\n{site_line}")),
    }
    weather = read_site(write_site(tmp_path, files)).weather
    assert weather.wind_height_m == pytest.approx(height_m)


def test_two_heights_at_odds(tmp_path: Path) -> None:
    site = changed(SITE, ("days = 7", "days = 7\nwind_height = 10"))
    assert only(write_site(tmp_path, {"site.toml": site})) == (
        "weather.csv:1, wind height: found '2 m'; expected the wind_height of "
        "site.toml, "
        "10 m. Give it in one place only"
    )


def test_a_height_that_is_none(tmp_path: Path) -> None:
    found = only(
        write_site(tmp_path, {"weather.csv": weather_csv(header="# wind height: low")})
    )
    assert found.startswith(
        "weather.csv:1, wind height: found 'low'; expected a length from"
    )


def test_humidity_as_a_share_is_not_taken_for_percent(tmp_path: Path) -> None:
    rows = ["time,air_temperature,humidity,wind,solar"]
    for index in range(WEATHER_HOURS):
        at = WEATHER_FROM + timedelta(hours=index)
        rows.append(f"{at:%Y-%m-%dT%H:%M},15,0.{index % 9 + 1},3,0")
    assert only(write_site(tmp_path, {"weather.csv": "\n".join(rows)})) == (
        "weather.csv:2, humidity: found 0.1, and nothing above 1; expected percent. "
        "Write 55, not 0.55"
    )


def test_sun_must_be_there_rain_and_cloud_need_not(tmp_path: Path) -> None:
    def columns(*dropped: int) -> str:
        cells = [row.split(",") for row in weather_csv(header="").strip().split("\n")]
        kept = [[c for n, c in enumerate(row) if n not in dropped] for row in cells]
        return "\n".join(",".join(row) for row in kept)

    hours = read_site(
        write_site(tmp_path / "a", {"weather.csv": columns(5, 6)})
    ).weather.hours
    assert {(h.cloud_fraction, h.rain_mm) for h in hours} == {(0.5, 0)}
    found = only(write_site(tmp_path / "b", {"weather.csv": columns(4)}))
    assert found == "weather.csv:1, solar: column missing"


def test_a_fault_in_every_hour_is_told_shortly(tmp_path: Path) -> None:
    text = weather_csv().replace(",20,0\n", ",20,-1\n")
    found = lines(write_site(tmp_path, {"weather.csv": text}))
    assert len(found) == 6
    assert found[-1].startswith("weather.csv, rain: found 307 more like those above")


def test_no_weather_at_all(tmp_path: Path) -> None:
    files = {"weather.csv": None, "wether.csv": HEADER}
    assert only(write_site(tmp_path, files)) == (
        "weather.csv: file not found. Rename 'wether.csv'?"
    )


def test_a_header_and_no_hours(tmp_path: Path) -> None:
    found = only(write_site(tmp_path, {"weather.csv": HEADER}))
    assert found == "weather.csv:1: no hours under the header"
