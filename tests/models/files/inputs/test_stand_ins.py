"""What of a folder cannot be read is replaced, and told to have been."""

from pathlib import Path

import pytest

from models.files.site_folder import read_folder
from models.records import SiteInput
from tests.models.files.folders import POURS, SITE, changed, weather_csv, write_site


def read(path: Path, **changes: str | None) -> tuple[SiteInput, frozenset[str]]:
    files = {name.replace("_", "."): text for name, text in changes.items()}
    found = read_folder(write_site(path, files))
    assert found.site_input is not None
    return found.site_input, frozenset(found.stand_ins)


def test_a_sound_folder_has_no_stand_ins(tmp_path: Path) -> None:
    assert read(tmp_path)[1] == frozenset()


# what is changed in site.toml, and what is a stand-in then
PARTS = [
    ("latitude = 52.0", "latitude = 520", {"head"}),
    ("Europe/Berlin", "compound/Berlin", {"head"}),
    ("2027-05-03 06:00", "3 May", {"head", "weather"}),
    ('skills = ["labourer", "fogger", "sprayer"]', 'skills = ["fogg"]', {"crews"}),
    ('ends = "17:00"', 'ends = "5 pm"', {"crews"}),
    ('shifts = ["night"]', 'shifts = ["nite"]', {"crews"}),
    ("flow = 30", "flow = 0", {"water"}),
    ("x = 120", 'x = "far"', {"water"}),
    ('water_points = ["tank"]', 'water_points = ["tanc"]', {"water"}),
    ("strength = 30", "strength = 0", {"mixes"}),
    ("en13670_class3", "en13670_klass3", {"profiles", "head"}),
    ("[[mix]]", "[[mixx]]", {"mixes"}),
    ('stock = "500 m2"', "stock = -1", set()),
    ("call_out = 350", "call_out = -1", set()),
]


@pytest.mark.parametrize(("old", "new", "parts"), PARTS)
def test_only_what_cannot_be_read_is_a_stand_in(
    tmp_path: Path, old: str, new: str, parts: set[str]
) -> None:
    site_input, stand_ins = read(tmp_path, site_toml=changed(SITE, (old, new)))
    assert stand_ins == parts
    assert [pour.id for pour in site_input.pours] == ["Q1", "Q2", "H1", "W1"]


def test_without_a_site_file_all_of_the_site_is_one(tmp_path: Path) -> None:
    site_input, stand_ins = read(tmp_path, site_toml=None)
    assert stand_ins == {"head", "crews", "water", "mixes", "profiles", "weather"}
    assert {zone.id for zone in site_input.site.zones} == {"A", "B", "stand-in"}
    assert {mix.id for mix in site_input.site.mixes} == {"C30"}


def test_weather_with_a_hole_is_replaced_by_mild_hours_over_all_placings(
    tmp_path: Path,
) -> None:
    holed = changed(weather_csv(), ("2027-05-04T10:00", "2027-05-04T10:30"))
    site_input, stand_ins = read(tmp_path, weather_csv=holed)
    assert stand_ins == {"weather"}
    hours = site_input.weather.hours
    first = min(pour.placing_starts_at for pour in site_input.pours)
    assert hours[0].at <= first
    assert hours[-1].at >= site_input.horizon.ends_at
    assert {hour.air_temperature_c for hour in hours} == {18}


def test_a_pour_is_judged_without_its_area_but_not_without_its_method(
    tmp_path: Path,
) -> None:
    pours = changed(POURS, (",420,", ",x,"), ("C30,sheet_over_burlap", "C30,tarpaulin"))
    site_input, _ = read(tmp_path, pours_csv=pours)
    assert [pour.id for pour in site_input.pours] == ["Q1", "H1", "W1"]


def test_reported_times_that_do_not_fit_are_left_out(tmp_path: Path) -> None:
    pours = changed(POURS, ("2027-05-01 17:00", "2027-05-03 07:00"))
    site_input, _ = read(tmp_path, pours_csv=pours)
    assert site_input.pours[-1].covered_at is None


def test_of_two_pours_of_one_name_the_first_is_judged(tmp_path: Path) -> None:
    site_input, _ = read(tmp_path, pours_csv=changed(POURS, ("Q2,A", "Q1,A")))
    assert [pour.id for pour in site_input.pours] == ["Q1", "H1", "W1"]


def test_without_any_pour_there_is_nothing_to_judge(tmp_path: Path) -> None:
    found = read_folder(write_site(tmp_path, {"pours.csv": None}))
    assert (found.site_input, found.stand_ins) == (None, frozenset())


def test_a_value_is_found_by_its_table_id_and_column(tmp_path: Path) -> None:
    site_input, _ = read(tmp_path)
    places = site_input.places
    assert str(places.of("pours", "H1", "method")) == "pours.csv:4"
    line = SITE.count("\n", 0, SITE.index("flow = 30")) + 1
    assert str(places.of("water", "tank", "flow")) == f"site.toml:{line}"
    line = SITE.count("\n", 0, SITE.index('"burlap_double.lay"')) + 1
    assert str(places.of("rates", "", "burlap_double.lay")) == f"site.toml:{line}"
    line = SITE.count("\n", 0, SITE.index("[rules]")) + 1
    # What is not written stands, if anywhere, in its table.
    assert str(places.of("rules", "", "weekend_cover")) == f"site.toml:{line}"
    assert str(places.of("pours", "H9", "method")) == "pours H9"
