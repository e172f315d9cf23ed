"""A folder as a whole: what belongs together, and all that is wrong at once."""

from pathlib import Path

import pytest

from models.errors import InputError
from models.files.site_folder import read_site
from models.records import SiteInput
from tests.models.files.folders import (
    POURS,
    READINGS,
    SITE,
    changed,
    weather_csv,
    write_site,
)
from tests.models.files.problem_lines import lines, only

#: Ten faults over three files: file, old piece, new piece, place, beginning.
TEN = [
    ("site.toml", "latitude = 52.0", "latitude = 520", 5, "[site] latitude: found 520"),
    ("site.toml", 'ends = "17:00"', 'ends = "5 pm"', 33, "[[shift]] ends: found '5"),
    ("site.toml", 'shifts = ["night"]', "shifts = []", 64, "[[crew]] shifts: found an"),
    ("site.toml", "flow = 30", 'flow = "30 gpm"', 84, "[[water]] flow: found '30 gpm'"),
    ("pours.csv", ",420,", ",-420,", 2, "area: found '-420'"),
    ("pours.csv", "Q2,A", "Q2,Z", 3, "zone: found 'Z'"),
    ("pours.csv", "2027-05-05 10:30", "5/5/2027 10:30", 4, "placing_end: found '5/5"),
    ("pours.csv", "W1,B", "H1,B", 5, "pour: duplicate pour 'H1'"),
    ("weather.csv", "2027-05-04T10:00,", "2027-05-04T10:00,x", 85, "air_temperature"),
    ("weather.csv", "2027-05-09T23:00,", "2027-05-09T22:00,", 218, "time: duplicate "
     "hour"),
]  # fmt: skip


def test_ten_planted_faults_are_exactly_ten_problems(tmp_path: Path) -> None:
    files = {"site.toml": SITE, "pours.csv": POURS, "weather.csv": weather_csv()}
    for name, old, new, _, _ in TEN:
        files[name] = changed(files[name], (old, new))
    # H1 twice leaves no W1 for the readings to be of: they are not part of this.
    found = lines(write_site(tmp_path, {**files, "readings.csv": None}))
    assert len(found) == 10, found
    for line, (name, _, _, row, said) in zip(found, TEN, strict=True):
        assert line.startswith(f"{name}:{row}, {said}"), line


def test_each_of_the_ten_is_found_alone(tmp_path: Path) -> None:
    files = {"site.toml": SITE, "pours.csv": POURS, "weather.csv": weather_csv()}
    for index, (name, old, new, row, said) in enumerate(TEN):
        one = {**files, name: changed(files[name], (old, new)), "readings.csv": None}
        found = only(write_site(tmp_path / str(index), one))
        assert found.startswith(f"{name}:{row}, {said}")


def test_the_message_counts_and_lists(tmp_path: Path) -> None:
    pours = changed(POURS, (",420,", ",0,"), ("Q2,A", "Q2,Z"))
    folder = write_site(tmp_path, {"pours.csv": pours})
    with pytest.raises(InputError, match="2 problems found") as refused:
        read_site(folder)
    assert str(refused.value).splitlines()[1].startswith("  pours.csv:2, area: found")
    assert refused.value.exit_code == 10


def test_no_folder(tmp_path: Path) -> None:
    found = only(tmp_path / "nowhere")
    assert found == "nowhere: folder not found"


def test_an_empty_folder_lacks_three_files(tmp_path: Path) -> None:
    assert lines(tmp_path) == [
        "site.toml: file not found",
        "pours.csv: file not found. pours.xlsx will do as well",
        "weather.csv: file not found. An EPW file will do as well",
    ]


def test_without_a_site_file_the_others_are_still_read(tmp_path: Path) -> None:
    pours = changed(POURS, (",420,", ",-420,"))
    first, second = lines(write_site(tmp_path, {"site.toml": None, "pours.csv": pours}))
    assert first.startswith("site.toml: file not found")
    assert second.startswith("pours.csv:2, area: found '-420'")


def test_a_zone_with_a_fault_is_still_a_zone(tmp_path: Path) -> None:
    site = changed(SITE, ("x = 120", 'x = "far"'))
    found = only(write_site(tmp_path, {"site.toml": site}))
    assert found.startswith("site.toml:25, [[zone]] x: found 'far'")


def test_a_zone_without_an_id_is_told_once(tmp_path: Path) -> None:
    site = changed(SITE, ('id = "B"\n', ""))
    found = only(write_site(tmp_path, {"site.toml": site}))
    assert found.startswith("site.toml:21, [[zone]] id: missing; expected an id")


def test_a_week_that_ends_in_a_skipped_hour(tmp_path: Path) -> None:
    site = changed(SITE, ("2027-05-03 06:00", "2027-03-21 02:30"))
    found = lines(write_site(tmp_path, {"site.toml": site}))
    assert found[0] == (
        "site.toml:9, [site] week_start: found a plan of 7 days that ends at 02:30; "
        "expected a time that exists in Europe/Berlin. The clocks skip it that night"
    )


def test_a_large_file_beside_a_fault(tmp_path: Path) -> None:
    folder = write_site(tmp_path, {"pours.csv": changed(POURS, (",420,", ",0,"))})
    with (folder / "weather.csv").open("wb") as file:
        file.truncate(30_000_000)
    first, second = lines(folder)
    assert first.startswith("pours.csv:2, area: found '0'")
    assert second.startswith(
        "weather.csv: found a file of 30 MB; expected at most 20 MB"
    )


def test_reading_twice_gives_equal_records_and_writes_nothing(tmp_path: Path) -> None:
    folder = write_site(tmp_path)
    before = {path.name: path.read_bytes() for path in folder.iterdir()}
    first = read_site(folder)
    assert read_site(folder) == first
    assert SiteInput.model_validate_json(first.model_dump_json()) == first
    assert {path.name: path.read_bytes() for path in folder.iterdir()} == before


def test_no_message_speaks_the_checkers_language(tmp_path: Path) -> None:
    """Whatever is wrong, it is said in words of the trade, not of the program."""
    site = SITE
    for word in ("30", '"A"', "true", '"day"', "2027-05-03"):
        site = site.replace(word, "'?'" if word.startswith('"') else "-7")
    pours = POURS.replace("2027", "27").replace("C30", "").replace("420", "1e400")
    files = {"site.toml": site, "pours.csv": pours, "readings.csv": READINGS[:-20]}
    said = "\n".join(lines(write_site(tmp_path, files))).lower()
    for jargon in (
        "input should",
        "valueerror",
        "pydantic",
        "field required",
        "none",
        "_m2",
    ):
        assert jargon not in said.replace("one of: none, ", ""), jargon
