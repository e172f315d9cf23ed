"""The pour programme: columns, cells, and pours against the week."""

import csv
import io
from contextlib import suppress
from datetime import UTC, datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import get_args

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.errors import InputError
from models.files.inputs.pours_file import read_pours
from models.files.reading.local_time import LocalTime
from models.files.reading.problems import ProblemCollector
from models.files.site_folder import read_site
from models.records import Element, MethodKey, Pour, Receives
from tests.models.files.folders import POURS, changed, write_site
from tests.models.files.problem_lines import lines, only

Q1 = (
    "Q1,A,slab_on_ground,2027-05-03T07:30,2027-05-03T11:30,420,250,,,C30,burlap_double,"
)


def test_units_and_blanks_of_the_sample(tmp_path: Path) -> None:
    quay, second, hall, wall = read_site(write_site(tmp_path)).pours
    assert quay.placing_starts_at == datetime(2027, 5, 3, 5, 30, tzinfo=UTC)
    assert (quay.area_m2, quay.thickness_mm, quay.formed_area_m2) == (420, 250, 0)
    assert (second.area_m2, second.thickness_mm) == (300, 250)
    assert hall.covered_at is None
    assert wall.wetted_at == datetime(2027, 5, 2, 16, tzinfo=UTC)


# old piece of the file, new piece, what is said
FAULTS = [
    (",420,", ",-420,", "pours.csv:2, area: found '-420'; expected an area above "
     "0, up to 200000 m2"),
    (",420,", ",4 200 ft2,", "pours.csv:2, area: found '4 200 ft2'; expected a number "
     "without spaces"),
    (",420,", ",300 ft,", "pours.csv:2, area: found '300 ft'; expected an area in "
     "one of: m2, "),
    (",420,", ',"4,5",', "pours.csv:2, area: found '4,5'; expected a number with a "
     "decimal point"),
    (",420,", ",nan,", "pours.csv:2, area: found 'nan'; expected an area above 0"),
    (",420,", ",inf,", "pours.csv:2, area: found 'inf'; expected an area above 0"),
    (",420,", ",,", "pours.csv:2, area: missing; expected an area above 0"),
    (",420,", ",4,20,", "pours.csv:2: found 16 values; expected at most 15, one for "
     "each column name. A comma inside a value? Put the value in quotes"),
    ("Q1,A", "Q1,C", "pours.csv:2, zone: found 'C'; expected a zone of the site, one "
     "of: "
     "A, B"),
    ("250,,,C30", "250,,,C3O", "pours.csv:2, mix: found 'C3O'; expected a mix of the "
     "site, one of: C30. Did you mean 'C30'?"),
    ("2027-05-03T07:30", "3/5/2027 07:30", "pours.csv:2, placing_start: found "
     "'3/5/2027 07:30'; expected a date and time such as 2027-06-07 06:00. Day and"),
    ("2027-05-03T11:30", "2027-05-03T07:00", "pours.csv:2, placing_end: found "
     "'2027-05-03T07:00'; expected a time after placing_start"),
    ("Q2,A", "Q1,A", "pours.csv:3, pour: duplicate pour 'Q1'. First used at "
     "pours.csv:2"),
    ("Q2,A", "Q/2,A", "pours.csv:3, pour: found 'Q/2'; expected an id"),
    ("H1,B,suspended_slab", "H1,B,suspendd_slab", "pours.csv:4, element: found "
     "'suspendd_slab'; expected one of: slab_on_ground, suspended_slab, deck, "
     "pavement, "
     "footing, wall, column, beam. Did you mean 'suspended_slab'?"),
    ("burlap_double,,3,,", "burlap_double,,4,,", "pours.csv:4, risk: found '4'; "
     "expected "
     "a whole number from 1 to 3"),
    ("burlap_double,,3,,", "burlap_double,,3,,2027-05-05 09:00", "pours.csv:4, "
     "covered_at: missing; expected when the cover was laid, as wetted_at is given"),
    ("2027-05-01 17:00", "2027-05-01 08:00", "pours.csv:5, covered_at: found "
     "2027-05-01 08:00; expected a time after placing_start, 2027-05-01 09:00"),
    ("2027-05-01 17:00", "2027-05-03 06:01", "pours.csv:5, covered_at: found "
     "2027-05-03 06:01; expected a time up to week_start, 2027-05-03 06:00"),
    ("2027-05-02 18:00", "2027-05-03 18:00", "pours.csv:5, wetted_at: found "
     "2027-05-03 18:00; expected a time up to week_start, 2027-05-03 06:00"),
    ("2027-05-03 09:00", "2027-05-01 11:00", "pours.csv:5, strike_at: found "
     "'2027-05-01 11:00'; expected a time after placing_end"),
    ("burlap_double,burlap_double", "burlap_double,", "pours.csv:5, formed_method: "
     "missing; expected a method for the faces, as formed_area is given"),
    (",area,", ",aera,", "pours.csv:1, aera: unknown column. Did you mean 'area'?"),
    (",risk,", ",rsk,", "pours.csv:1, rsk: unknown column. Did you mean 'risk'?"),
    (",risk,", ",area,", "pours.csv:1, area: duplicate column"),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "said"), FAULTS)
def test_one_fault_is_one_problem_with_its_row(
    tmp_path: Path, old: str, new: str, said: str
) -> None:
    pours = changed(POURS, (old, new))
    found = lines(write_site(tmp_path, {"pours.csv": pours}))
    assert len(found) == 1, found
    assert found[0].startswith(said), found[0]


def test_a_column_that_is_missing_and_one_that_is_like_none(tmp_path: Path) -> None:
    pours = changed(POURS, (",area,", ",qm,"))
    missing, unknown = lines(write_site(tmp_path, {"pours.csv": pours}))
    assert missing == "pours.csv:1, area: column missing"
    assert unknown.startswith("pours.csv:1, qm: unknown column. Columns: one of: pour,")


#: One pour with edges, and a change of method after three days.
CHANGING = (
    "pour,zone,element,placing_start,placing_end,area,thickness,mix,method,edge_area,"
    "edge_strike_at,edge_method,then_method,then_after,shoring_checked\n"
    "Q1,A,deck,2027-05-03 07:30,2027-05-03 11:30,420,250,C30,burlap_double,30,"
    "2027-05-04 07:00,compound_white,ponding,3 d,yes\n"
)


def test_edges_and_a_change_of_method(tmp_path: Path) -> None:
    files = {"pours.csv": CHANGING, "readings.csv": None}
    (pour,) = read_site(write_site(tmp_path, files)).pours
    assert (pour.edge_area_m2, pour.edge_method) == (30, "compound_white")
    assert pour.edge_strike_at == datetime(2027, 5, 4, 5, tzinfo=UTC)
    assert (pour.then_method, pour.then_after_h) == ("ponding", 72)
    assert pour.shoring_checked


@pytest.mark.parametrize(
    ("text", "word", "hours"),
    [("Weekend", "weekend", None), ("frost", "frost", None), ("60", "60", 60.0)],
)
def test_when_a_method_changes(
    tmp_path: Path, text: str, word: str, hours: float | None
) -> None:
    files = {"pours.csv": CHANGING.replace("3 d", text), "readings.csv": None}
    (pour,) = read_site(write_site(tmp_path, files)).pours
    assert (pour.then_after, pour.then_after_h) == (word, hours)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("3 d", "later", "then_after: found 'later'; expected a time such as 3 d or "
         "60 h"),
        ("3 d", "0 d", "then_after: found '0 d'; expected a time such as 3 d or 60 h"),
        ("3 d", "", "then_after: missing; expected a time such as 3 d or 60 h"),
        ("ponding,3", ",3", "then_method: missing; expected the method that follows"),
        ("ponding", "pond", "then_method: found 'pond'; expected one of:"),
        ("compound_white,", ",", "edge_method: missing; expected a method for the "
         "edges, as edge_area is given"),
        ("2027-05-04 07:00", "2027-05-03 11:30", "edge_strike_at: found '2027-05-03 "
         "11:30'; expected a time after placing_end"),
        ("d,yes", "d,maybe", "shoring_checked: found 'maybe'; expected true or false"),
    ],
)  # fmt: skip
def test_a_change_that_does_not_fit(
    tmp_path: Path, old: str, new: str, said: str
) -> None:
    files = {"pours.csv": changed(CHANGING, (old, new)), "readings.csv": None}
    assert only(write_site(tmp_path, files)).startswith(f"pours.csv:2, {said}")


def test_a_reading_may_be_of_an_edge(tmp_path: Path) -> None:
    reading = "surface,at,place,temperature\nQ1-edges,2027-05-04 08:00,surface,21\n"
    files = {"pours.csv": CHANGING, "readings.csv": reading}
    assert read_site(write_site(tmp_path, files)).readings[0].surface_id == "Q1-edges"
    bare = CHANGING.replace(",30,2027-05-04 07:00,compound_white,", ",,,,")
    said = only(write_site(tmp_path / "bare", files | {"pours.csv": bare}))
    assert said.startswith("readings.csv:2, surface: found 'Q1-edges'")


def test_a_pour_after_the_planned_week(tmp_path: Path) -> None:
    late = Q1.replace("2027-05-03", "2027-05-10").replace("Q1", "Q9") + ",,,\n"
    found = only(write_site(tmp_path, {"pours.csv": POURS + late}))
    assert found == (
        "pours.csv:6, placing_start: found 2027-05-10 07:30; expected a time before "
        "the "
        "plan ends, 2027-05-10 06:00. Plan a later week, or more 'days' in site.toml"
    )


def test_headers_are_taken_in_any_case_and_spacing(tmp_path: Path) -> None:
    header, _, rows = POURS.partition("\n")
    spaced = header.replace("_", " ").title()
    plain = read_site(write_site(tmp_path / "plain")).pours
    read = read_site(write_site(tmp_path / "own", {"pours.csv": f"{spaced}\n{rows}"}))
    assert read.pours == plain


@pytest.mark.parametrize("delimiter", [";", "\t"])
def test_semicolons_and_tabs_part_cells_too(tmp_path: Path, delimiter: str) -> None:
    other = POURS.replace(",", delimiter)
    plain = read_site(write_site(tmp_path / "plain")).pours
    read = read_site(write_site(tmp_path / "own", {"pours.csv": other}))
    assert read.pours == plain


def test_blank_rows_comments_and_a_byte_order_mark_do_not_move_the_rows(
    tmp_path: Path,
) -> None:
    header, _, rows = POURS.partition("\n")
    text = f'\ufeff# from the programme, "rev B\n{header}\n\n,,,,\n{rows}'
    bad = text.replace(",420,", ",0,")
    found = only(write_site(tmp_path, {"pours.csv": bad}))
    assert found.startswith("pours.csv:5, area: found '0'")


def test_a_cell_over_two_lines_does_not_move_the_rows(tmp_path: Path) -> None:
    pours = (
        "pour,zone,element,placing_start,placing_end,area,thickness,mix,method,finish\n"
        'Q1,A,deck,2027-05-03 07:30,2027-05-03 09:00,9,250,C30,burlap_double,"two\n'
        'lines"\n'
        "Q2,A,deck,2027-05-03 07:30,2027-05-03 09:00,x,250,C30,burlap_double,\n"
    )
    files = {"pours.csv": pours, "readings.csv": None}
    first, second = lines(write_site(tmp_path, files))
    assert first.startswith(
        "pours.csv:2, finish: found 'two\\nlines'; expected one line"
    )
    assert second.startswith("pours.csv:4, area: found 'x'")


@pytest.mark.parametrize(
    ("content", "said"),
    [
        ("", "pours.csv: empty table. The first row holds the column names: pour"),
        (POURS.partition("\n")[0], "pours.csv:1: no pours under the header"),
        ('pour,zone\n"P1,A\n', "pours.csv:2: a row that cannot be split into cells"),
        (POURS.encode("utf-16"), "pours.csv:1: not UTF-8 text: byte 0xff at position "
         "0. Save"),
    ],
)  # fmt: skip
def test_a_file_without_pours(tmp_path: Path, content: str | bytes, said: str) -> None:
    files = {"pours.csv": content, "readings.csv": None}
    assert only(write_site(tmp_path, files)).startswith(said)


def test_no_file_of_pours_and_one_that_is_nearly_so(tmp_path: Path) -> None:
    files = {"pours.csv": None, "pour.csv": POURS}
    assert only(write_site(tmp_path, files)) == (
        "pours.csv: file not found. Rename 'pour.csv'?"
    )


def test_both_files_of_pours_are_one_too_many(tmp_path: Path) -> None:
    found = only(write_site(tmp_path, {"pours.xlsx": b"PK"}))
    assert found.startswith(
        "pours.xlsx: both pours.csv and pours.xlsx are there. Delete the outdated one"
    )


INSTANTS = st.datetimes(
    datetime(2027, 5, 3),  # noqa: DTZ001 - given its offset below
    datetime(2027, 5, 9),  # noqa: DTZ001
).map(lambda at: at.replace(tzinfo=UTC, microsecond=0))
IDS = st.from_regex(r"[A-Za-z0-9][A-Za-z0-9 ._#()+-]{0,12}[A-Za-z0-9]", fullmatch=True)
FINISHES = st.text("ab \",;%é'#", max_size=12).map(str.strip)


@st.composite
def pours(draw: st.DrawFn) -> Pour:
    """Any pour that the record allows."""
    starts = draw(INSTANTS)
    ends = starts + timedelta(minutes=draw(st.integers(1, 2000)))
    formed = draw(st.sampled_from([0.0, 0.5, 1e-7, 12345.678]))
    then = draw(st.sampled_from([None, "weekend", "frost", "3 d", "60"]))
    return Pour(
        id=draw(IDS), zone_id=draw(IDS), mix_id=draw(IDS),
        element=draw(st.sampled_from(get_args(Element))),
        placing_starts_at=starts, placing_ends_at=ends,
        area_m2=draw(st.floats(0, 200_000, exclude_min=True)),
        thickness_mm=draw(st.floats(30, 5000)),
        formed_area_m2=formed,
        strike_at=ends + timedelta(hours=8) if formed else None,
        exposure=draw(st.sampled_from(["open", "sheltered", "indoors"])),
        method=draw(st.sampled_from(get_args(MethodKey))),
        formed_method=draw(st.sampled_from(get_args(MethodKey))) if formed else None,
        receives=draw(st.sampled_from(get_args(Receives))),
        finish=draw(FINISHES), slope_pct=draw(st.floats(0, 100)),
        risk=draw(st.integers(1, 3)), profile=draw(st.none() | IDS),
        placing_temperature_c=draw(st.floats(0, 45)),
        edge_area_m2=formed / 2,
        edge_strike_at=ends + timedelta(hours=6) if formed else None,
        edge_method=draw(st.sampled_from(get_args(MethodKey))) if formed else None,
        then_method=then and draw(st.sampled_from(get_args(MethodKey))),
        then_after=then,
        shoring_checked=draw(st.booleans()),
    )  # fmt: skip


#: The words of the file, written out here so that a changed word is seen.
WORDS = {
    "pour": "id", "zone": "zone_id", "element": "element",
    "placing_start": "placing_starts_at", "placing_end": "placing_ends_at",
    "area": "area_m2", "thickness": "thickness_mm", "formed_area": "formed_area_m2",
    "strike_at": "strike_at", "mix": "mix_id", "exposure": "exposure",
    "method": "method", "formed_method": "formed_method", "receives": "receives",
    "finish": "finish", "slope": "slope_pct", "risk": "risk", "profile": "profile",
    "placing_temperature": "placing_temperature_c", "covered_at": "covered_at",
    "wetted_at": "wetted_at", "edge_area": "edge_area_m2",
    "edge_strike_at": "edge_strike_at", "edge_method": "edge_method",
    "then_method": "then_method", "then_after": "then_after",
    "shoring_checked": "shoring_checked",
}  # fmt: skip


def as_csv(rows: list[Pour], delimiter: str) -> str:
    out = io.StringIO()
    writer = csv.writer(out, delimiter=delimiter)
    writer.writerow(WORDS)
    for pour in rows:
        values = [getattr(pour, field) for field in WORDS.values()]
        writer.writerow(
            v.isoformat() if isinstance(v, datetime) else "" if v is None else v
            for v in values
        )
    return out.getvalue()


@settings(deadline=None, max_examples=60)
@given(
    st.lists(pours(), min_size=1, max_size=4, unique_by=lambda p: p.id),
    st.sampled_from(",;\t"),
)
def test_pours_written_as_csv_read_back_equal(rows: list[Pour], delimiter: str) -> None:
    problems = ProblemCollector()
    with TemporaryDirectory() as folder:
        (Path(folder) / "pours.csv").write_text(as_csv(rows, delimiter), newline="")
        entries = read_pours(Path(folder), LocalTime("Asia/Kolkata"), problems)
    assert problems.in_order() == ()
    assert entries is not None
    assert [entry.record for entry in entries] == rows


@settings(deadline=None, max_examples=150)
@given(
    st.one_of(
        st.binary(max_size=300),
        st.text(max_size=200).map(lambda t: (POURS + t).encode("utf-8", "replace")),
        st.text('Q1A,;"\n\r\t 2027-05:#', max_size=120).map(
            lambda t: (POURS.partition("\n")[0] + "\n" + t).encode()
        ),
    ),
    st.sampled_from(["pours.csv", "pours.xlsx", "readings.csv", "weather.csv"]),
)
def test_any_bytes_are_read_or_refused(content: bytes, name: str) -> None:
    others = ("pours.csv", "weather.csv", "readings.csv")  # left out: it is quicker
    files: dict[str, str | bytes | None] = dict.fromkeys(others)
    with TemporaryDirectory() as folder:
        site = write_site(Path(folder), files | {name: content})
        with suppress(InputError):
            read_site(site)
