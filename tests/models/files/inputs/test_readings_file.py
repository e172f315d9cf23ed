"""Measured temperatures, each of a surface that will be there."""

from datetime import UTC, datetime
from pathlib import Path

import pytest

from models.files.site_folder import read_site
from tests.models.files.folders import READINGS, changed, write_site
from tests.models.files.problem_lines import only


def test_readings_of_the_sample(tmp_path: Path) -> None:
    first, second = read_site(write_site(tmp_path)).readings
    assert (first.surface_id, first.place) == ("W1-top", "core")
    assert first.at == datetime(2027, 5, 2, 6, tzinfo=UTC)
    assert second.temperature_c == pytest.approx((74 - 32) / 1.8)


def test_there_need_be_none(tmp_path: Path) -> None:
    assert read_site(write_site(tmp_path, {"readings.csv": None})).readings == ()


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("W1-top", "W1-topp", "readings.csv:2, surface: found 'W1-topp'; expected a "
         "surface of the site, one of: Q1-top, Q2-top, H1-top, W1-top, W1-faces. Did "
         "you mean 'W1-top'?"),
        ("W1-faces", "Q1-faces", "readings.csv:3, surface: found 'Q1-faces'"),
        ("31.5", "31,5", "readings.csv:2: found 5 values; expected at most 4"),
        ("31.5", "315", "readings.csv:2, temperature: found '315'; expected a "
         "temperature from -20 to 100 degC"),
        ("core", "middle", "readings.csv:2, place: found 'middle'; expected one of: "
         "surface, core"),
        ("W1-faces,2027-05-03 10:00,surface", "W1-top,2027-05-02T08:00,core",
         "readings.csv:3, at: duplicate reading of this place and time. First at "
         "readings.csv:2"),
    ],
)  # fmt: skip
def test_one_fault_is_one_problem(
    tmp_path: Path, old: str, new: str, said: str
) -> None:
    readings = changed(READINGS, (old, new))
    assert only(write_site(tmp_path, {"readings.csv": readings})).startswith(said)
