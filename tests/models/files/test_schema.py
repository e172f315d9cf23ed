"""The schemas against the reader: they come from one table and must agree."""

import tomllib
from typing import Any

import jsonschema
import pytest

from models.files.reading.columns import Table
from models.files.reading.row_tables import POUR, READING, WEATHER
from models.files.reading.site_tables import LISTED, SINGLE, SITE
from models.files.schema import schemas
from models.records import Pour, Reading, Record, Site, WeatherHour
from tests.models.files.folders import SITE as SAMPLE
from tests.models.files.folders import changed

ALL = schemas()


@pytest.mark.parametrize("name", ALL)
def test_each_is_a_valid_schema(name: str) -> None:
    jsonschema.Draft202012Validator.check_schema(ALL[name])


def faults(document: dict[str, Any]) -> list[str]:
    validator = jsonschema.Draft202012Validator(ALL["site"])
    return [error.json_path for error in validator.iter_errors(document)]


def test_the_sample_site_fits() -> None:
    assert faults(tomllib.loads(SAMPLE)) == []


@pytest.mark.parametrize(
    ("old", "new", "path"),
    [
        ("latitude = 52.0", "latitude = 152", "$.site.latitude"),
        ("flow = 30", "flow = 0", "$.water[1].flow"),
        ("on_call = true", "break_stagger = -5", "$.shift[2].break_stagger"),
        ('kind = "mains"', 'kind = "main"', "$.water[0].kind"),
        ("days = 7", "dais = 7", "$.site"),
        ('shifts = ["night"]', "shifts = []", "$.crew[1].shifts"),
        ('shifts = ["night"]', "", "$.crew[1]"),
        ("[[mix]]", "[[mixx]]", "$"),
        ('litres = "2 m3"', "litres = -2", "$.water[1].delivery[0].litres"),
        ("call_out = 350", "call_out = -1", "$.costs.call_out"),
        ("cement = 340", "cement = 340\nadiabatic_rise = [[12]]",
         "$.mix[0].adiabatic_rise"),
        ("cement = 340", "cement = 340\nadiabatic_rise = [[12, 200]]",
         "$.mix[0].adiabatic_rise"),
        ('"burlap_double.lay" = 40', '"burlap_double.lay" = 0', "$.rates"),
        ('night_ends = "06:00"', 'night_ends = "6 am"', "$.site.night_ends"),
        ('= "2027-05-03 06:00"', '= "3.5.27"', "$.site.week_start"),
    ],
)  # fmt: skip
def test_what_the_reader_refuses_does_not_fit(old: str, new: str, path: str) -> None:
    found = faults(tomllib.loads(changed(SAMPLE, (old, new))))
    assert found
    assert all(where.startswith(path) for where in found)


def test_bounds_are_those_of_a_bare_number_in_the_file() -> None:
    humidity = ALL["weather_hour"]["properties"]["humidity"]
    assert humidity["anyOf"][0] == {"type": "number", "minimum": 0, "maximum": 100}
    assert humidity["description"] == "share, in % if bare; units: %"


def test_rows_name_what_they_need() -> None:
    assert ALL["pour"]["required"] == [
        "pour", "zone", "element", "placing_start", "placing_end", "area", "thickness",
        "mix", "method",
    ]  # fmt: skip
    assert ALL["weather_hour"]["required"] == [
        "time", "air_temperature", "humidity", "wind", "solar",
    ]  # fmt: skip


def test_results_have_their_schema_too() -> None:
    assert "visits" in ALL["roster"]["properties"]
    assert "findings" in ALL["audit_report"]["properties"]


@pytest.mark.parametrize(
    ("table", "record"), [(POUR, Pour), (WEATHER, WeatherHour), (READING, Reading)]
)
def test_every_field_of_a_row_has_its_word(
    table: Table[Record], record: type[Record]
) -> None:
    assert {c.field for c in table.columns} == record.model_fields.keys()


#: Set where a gang names no parties; nobody writes it.
_MADE = {"by_default"}
#: What comes from the site's ledger, and no file has.
_LEDGER = {"outages"}


def test_every_field_of_the_site_has_its_word() -> None:
    ours = {c.field for c in SITE.columns} - {"wind_height_m"}
    inside = {inner.field for inner in (*LISTED, *SINGLE)} | {"rates"}
    assert ours | inside == Site.model_fields.keys()
    for outer in (*LISTED, *SINGLE):
        fields = {c.field for c in outer.table.columns}
        fields |= {inner.field for inner in outer.table.inner}
        assert fields == outer.table.record.model_fields.keys() - _LEDGER
        for inner in outer.table.inner:
            named = {c.field for c in inner.table.columns}
            named |= {deeper.field for deeper in inner.table.inner}
            assert named | _MADE == inner.table.record.model_fields.keys() | _MADE
