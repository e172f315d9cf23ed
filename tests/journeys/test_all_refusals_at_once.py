"""A folder is refused once and for all: a check lists what a plan would refuse."""

from pathlib import Path

import pytest

from scheduler.fleet.fleet import plan_site
from scheduler.fleet.outcome import Unplanned
from scheduler.workflow import BY_DEFAULT
from tests.models.files.folders import POURS, SITE, changed, write_site
from tests.scheduler.cli.command_line import Ran, run

#: What was found only by planning is marked; old piece, new piece, what is told.
IN_SITE = [
    # planning: a name that the sheets' font cannot print
    ('name = "Quay slab"', 'name = "Quay 七"', "[[zone]] name: found 'Quay 七'"),
    ('skills = ["labourer", "fogger", "sprayer"]', 'skills = ["labourer", "foger"]',
     "[[crew]] skills: found 'foger'"),
    # planning: 2,000 m² at 36 L/m² a day are 50 L/min, others draw 15 in the morning
    ("flow = \"40 L/min\"", "flow = '40 L/min'",
     "[[water]] flow: found 40 L/min; expected 65 L/min"),
    # planning: a rate that the method table does not have
    ('"burlap_double.lay" = 40', '"burlap_doubel.lay" = 40',
     "[rates] burlap_doubel.lay: unknown rate. Did you mean 'burlap_double.lay'?"),
]  # fmt: skip
IN_POURS = [
    (",420,", ",-420,", "area: found '-420'"),
    ("300 m2,25 cm,,,C30,sheet_over_burlap", "2000,250,,,C30,sprinklers", ""),
    # planning: a pond on a slab whose shoring nobody checked
    ("180,300,,,C30,burlap_double", "180,300,,,C30,ponding",
     "method: found ponding; expected shoring_checked"),
    # planning: sand on a wall
    ("C30,burlap_double,burlap_double", "C30,wet_sand,burlap_double",
     "method: found wet_sand; expected a method for a wall"),
    ("2027-05-01 17:00", "2027-05-03 07:00", "covered_at: found 2027-05-03 07:00"),
]  # fmt: skip
RULE = 'base = "aci_318"\nid = "own"\ncover_withn_min = 20\n'


def ten_faults(path: Path) -> Path:
    site = changed(SITE, *((old, new) for old, new, _ in IN_SITE))
    pours = changed(POURS, *((old, new) for old, new, _ in IN_POURS))
    files = {"site.toml": site, "pours.csv": pours, "profiles/own.toml": RULE}
    folder = write_site(path, files)
    # planning: the output has no room
    (folder / "out").write_text("notes", "utf-8")
    return folder


def places() -> list[str]:
    """Where each fault stands, in the order of the files."""
    lines = [
        *((SITE, "site.toml", old, said) for old, _, said in IN_SITE),
        *((POURS, "pours.csv", old, said) for old, _, said in IN_POURS),
    ]
    return [
        f"{name}:{text.count(chr(10), 0, text.index(old)) + 1}, {said}"
        for text, name, old, said in lines
        if said
    ]


def told(ran: Ran) -> list[str]:
    head, *lines = ran.err.splitlines()
    assert head == f"{len(lines)} problems found:"
    return [line.strip() for line in lines]


def test_a_check_lists_ten_refusals_in_one_go_and_a_plan_the_same(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = ten_faults(tmp_path / "site")
    before = {p: p.read_bytes() for p in folder.rglob("*") if p.is_file()}
    checked = run(monkeypatch, capsys, "check", str(folder))
    found = told(checked)
    assert len(found) == 10
    for line, begins in zip(
        found,
        [
            *places(),
            "profiles/own.toml:3, cover_withn_min: unknown key. Did you mean 'cover_",
            f"{folder / 'out'}: a file where the output folder goes",
        ],
        strict=True,
    ):
        assert line.startswith(begins), line

    planned = run(monkeypatch, capsys, "plan", str(folder))
    assert (planned.code, planned.out, planned.err) == (10, "", checked.err)
    assert checked.code == 10
    one_of_many = plan_site(folder, BY_DEFAULT)
    assert isinstance(one_of_many, Unplanned)
    assert [str(problem) for problem in one_of_many.problems] == found
    assert {p: p.read_bytes() for p in folder.rglob("*") if p.is_file()} == before


def test_what_cannot_be_read_hides_no_conflict(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Without a site, weather, mixes or crews a wall still takes no sand."""
    pours = changed(
        POURS,
        ("C30,burlap_double,burlap_double", "C30,wet_sand,burlap_double"),
        ("180,300,,,C30", "x,300,,,C3O"),
        (",C3O,burlap_double", ",C3O,ponding"),
    )
    files = {"site.toml": SITE + "x = ", "weather.csv": None, "pours.csv": pours}
    folder = write_site(tmp_path, files)
    found = told(run(monkeypatch, capsys, "check", str(folder)))
    assert [line.partition(";")[0] for line in found] == [
        f"site.toml:{SITE.count(chr(10)) + 1}: found 'x ='",
        "pours.csv:4, area: found 'x'",
        "pours.csv:4, method: found ponding",
        "pours.csv:5, method: found wet_sand",
        "weather.csv: file not found. An EPW file will do as well",
    ]


def test_what_a_bad_crew_might_do_is_not_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Nobody is known to spray while the only crew that might cannot be read."""
    sprayed = changed(
        POURS, ("420,250,,,C30,burlap_double", "420,250,,,C30,compound_white")
    )
    crew = changed(SITE, ('"fogger", "sprayer"', '"fogger", "spraier"'))
    folder = write_site(tmp_path, {"site.toml": crew, "pours.csv": sprayed})
    (only,) = run(monkeypatch, capsys, "check", str(folder)).err.splitlines()[1:]
    assert "[[crew]] skills: found 'spraier'" in only


def test_a_check_takes_the_options_of_a_plan(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = write_site(tmp_path)
    assert run(monkeypatch, capsys, "check", str(folder), "--dry-side").code == 0
    checked = run(monkeypatch, capsys, "check", str(folder), "--stay-near")
    planned = run(monkeypatch, capsys, "plan", str(folder), "--stay-near")
    assert (checked.code, planned.code) == (10, 10)
    assert checked.err == planned.err
    assert "roster.json: roster not found." in checked.err
