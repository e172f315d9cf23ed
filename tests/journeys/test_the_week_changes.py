"""A week that is published, reported on and planned again, as its people do it."""

import shutil
from collections.abc import Callable, Iterator
from itertools import count
from pathlib import Path

import pytest

import exports.out_folder as out_folder
from models.errors import InputError, Place, Problem
from models.ledger.sqlite_store import FILE_NAME, open_sqlite
from models.records import Draft, Issue, Roster, Visit, VisitIdentity
from scheduler.cli.app import app
from scheduler.cli.ledgers import DATABASE
from scheduler.publishing import publish
from tests.models.files.folders import write_site
from tests.scheduler.cli.command_line import Ran, run

pytestmark = pytest.mark.slow

SUNDAY, TUESDAY = "2027-05-02 18:00", "2027-05-04 03:00"
Patch = pytest.MonkeyPatch
Caught = pytest.CaptureFixture[str]


def keepdamp(*words: str) -> None:
    app(list(words), standalone_mode=False)


@pytest.fixture(scope="module", autouse=True)
def _files_alone() -> Iterator[None]:
    with pytest.MonkeyPatch.context() as patch:
        patch.delenv(DATABASE, raising=False)
        yield


@pytest.fixture(scope="module")
def drafted(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The small site, planned and not published."""
    site = write_site(tmp_path_factory.mktemp("week") / "wharf")
    keepdamp("plan", str(site), "--seconds", "1")
    return site


@pytest.fixture(scope="module")
def published(drafted: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    site = copy(drafted, tmp_path_factory.mktemp("published"))
    keepdamp("publish", str(site), "--now", SUNDAY)
    return site


@pytest.fixture(scope="module")
def second(published: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A pour has slipped, a cover was found dry, and the rest is planned again."""
    site = copy(published, tmp_path_factory.mktemp("second"))
    now = ("--now", TUESDAY)
    log = "log", str(site)
    keepdamp(*log, "slipped", "Q2", "--to", "2027-05-04 10:00", "--by", "JM", *now)
    keepdamp(
        *log, "found", "Q1-top", "dry", "--at", "02:40", "--litres", "150",
        "--by", "OW", *now,
    )  # fmt: skip
    keepdamp("replan", str(site), "--at", "Tue 03:00", "--seconds", "1")
    keepdamp("publish", str(site), "--now", TUESDAY, "--note", "Q2 slips")
    return site


def copy(site: Path, to: Path) -> Path:
    return Path(shutil.copytree(site, to / site.name))


def work_of(visit: Visit) -> str:
    """What is done there; stints of fog and strips are like one another."""
    return visit.task_id.rstrip("0123456789").rstrip("-")


def some_ids() -> Callable[[], str]:
    numbers = count(1)
    return lambda: f"00000000-0000-4000-8000-{next(numbers):012d}"


def issues(site: Path) -> list[Issue]:
    with open_sqlite(site / FILE_NAME) as store:
        found = [store.issue(head.number) for head in store.issues()]
    return [issue for issue in found if issue is not None]


def identities(site: Path, number: int) -> dict[str, VisitIdentity]:
    with open_sqlite(site / FILE_NAME) as store:
        return {one.id: one for one in store.visits(number)}


def roster(site: Path) -> Roster:
    text = (site / "out" / "roster.json").read_text("utf-8")
    return Roster.model_validate_json(text)


def keys(visits: tuple[Visit, ...]) -> set[tuple[object, ...]]:
    return {(v.task_id, v.crew_id, v.starts_at, v.ends_at) for v in visits}


def texts(site: Path) -> dict[str, bytes]:
    out = site / "out"
    return {
        path.relative_to(out).as_posix(): path.read_bytes()
        for path in sorted(out.rglob("*"))
        if path.is_file()
    }


def test_a_draft_says_what_it_was_planned_from_and_is_no_issue(drafted: Path) -> None:
    text = (drafted / "out" / "draft.json").read_text("utf-8")
    draft = Draft.model_validate_json(text)
    assert (draft.since_issue, draft.entries_up_to, draft.from_at) == (0, 0, None)
    assert "DRAFT" in (drafted / "out" / "board.html").read_text("utf-8")
    assert not (drafted / FILE_NAME).exists()


def test_publishing_numbers_the_draft_and_leaves_its_visits(
    drafted: Path, published: Path
) -> None:
    (issue,) = issues(published)
    assert issue.number == 1
    assert Roster.model_validate_json(issue.roster) == roster(published)
    assert roster(published) == roster(drafted)
    assert "draft.json" not in texts(published)
    board = texts(published)["board.html"].decode()
    assert "Issue 1" in board
    assert "DRAFT" not in board
    known = identities(published, 1)
    assert len({one.visit_id for one in known.values()}) == len(roster(drafted).visits)


def test_a_plan_on_the_dry_side_is_published_as_that(
    drafted: Path, tmp_path: Path, monkeypatch: Patch, capsys: Caught
) -> None:
    site = copy(drafted, tmp_path)
    keepdamp("plan", str(site), "--seconds", "1", "--dry-side")
    ran = run(monkeypatch, capsys, "publish", str(site), "--now", SUNDAY)
    assert ran.code == 0
    (issue,) = issues(site)
    assert Roster.model_validate_json(issue.roster).forecast_side == "dry"


def test_what_a_draft_changed_of_another_draft_costs_the_first_issue_nothing(
    drafted: Path, tmp_path: Path, monkeypatch: Patch, capsys: Caught
) -> None:
    site = copy(drafted, tmp_path)
    toml = site / "site.toml"
    hours, later = '"07:00"\nends = "17:00"', '"08:00"\nends = "18:00"'
    text = toml.read_text("utf-8")
    assert hours in text
    toml.write_text(text.replace(hours, later), "utf-8")
    keepdamp("plan", str(site), "--seconds", "1", "--stay-near")
    changes = {part.name: part.cost for part in roster(site).objective}["changes"]
    assert changes > 0
    cost = roster(site).cost
    ran = run(monkeypatch, capsys, "publish", str(site), "--now", SUNDAY)
    assert ran.code == 0
    assert issues(site)[0].cost == pytest.approx(cost - changes)


def test_nothing_is_published_twice(
    published: Path, monkeypatch: Patch, capsys: Caught
) -> None:
    ran = run(monkeypatch, capsys, "publish", str(published))
    assert ran.code == 10
    assert "no draft: nothing was planned since the last issue" in ran.err


def test_a_draft_of_another_folder_is_refused(
    drafted: Path, tmp_path: Path, monkeypatch: Patch, capsys: Caught
) -> None:
    site = copy(drafted, tmp_path)
    pours = site / "pours.csv"
    pours.write_text(pours.read_text("utf-8") + "\n", "utf-8")
    ran = run(monkeypatch, capsys, "publish", str(site), "--now", SUNDAY)
    assert ran.code == 10
    assert "planned before the site folder was changed" in ran.err
    assert texts(site) == texts(drafted)


def test_a_replan_needs_something_published(
    drafted: Path, monkeypatch: Patch, capsys: Caught
) -> None:
    ran = run(monkeypatch, capsys, "replan", str(drafted), "--at", TUESDAY)
    assert ran.code == 10
    assert "nothing was published yet" in ran.err


def test_a_time_that_is_none_is_refused(
    published: Path, monkeypatch: Patch, capsys: Caught
) -> None:
    ran = run(monkeypatch, capsys, "replan", str(published), "--at", "tea time")
    assert ran.code == 10
    assert "found tea time" in ran.err.replace("'", "")
    assert "Tue 07:40" in ran.err


def test_what_began_stands_and_nothing_else_begins_before(second: Path) -> None:
    first, now = (Roster.model_validate_json(i.roster) for i in issues(second))
    at = now.begun_until
    assert at is not None
    begun = keys(tuple(v for v in first.visits if v.starts_at < at))
    stands = keys(tuple(v for v in now.visits if v.starts_at < at))
    found = {key for key in stands if key[0] == "Q1-top/rewet"} - begun
    assert len(found) == 1  # the wetting of the night, by litres written down
    assert stands - found <= begun
    # What was planned before 3 o'clock and did not happen is on the pour that slipped.
    assert {str(key[0]).split("/")[0] for key in begun - stands} <= {"Q2-top"}


def test_visits_that_stand_keep_their_names_and_old_names_no_other_work(
    second: Path,
) -> None:
    before, after = identities(second, 1), identities(second, 2)
    first, now = (Roster.model_validate_json(i.roster) for i in issues(second))
    visits = {v.id: v for v in first.visits}
    later = {v.id: v for v in now.visits}
    name_of = {one.visit_id: name for name, one in before.items()}
    kept = 0
    for name, one in after.items():
        if one.visit_id is None or name not in before:
            continue
        was, is_now = visits[before[name].visit_id or ""], later[one.visit_id]
        assert work_of(was) == work_of(is_now)
        kept += 1
    assert kept > 0
    now_by_key = {(v.task_id, v.crew_id, v.starts_at): v.id for v in now.visits}
    names_now = {one.visit_id: name for name, one in after.items()}
    renamed = [
        visit.id
        for visit in first.visits
        if (there := now_by_key.get((visit.task_id, visit.crew_id, visit.starts_at)))
        and names_now.get(there) != name_of[visit.id]
    ]
    assert renamed == []
    assert all(
        after[name].sequence >= one.sequence
        for name, one in before.items()
        if name in after
    )


def test_the_crews_are_told_what_changed(second: Path) -> None:
    files = texts(second)
    assert "Changed since issue 1" in files["board.html"].decode()
    assert "tables/changes.csv" in files
    assert issues(second)[1].note == "Q2 slips"
    assert issues(second)[1].entries_up_to == 2


def test_a_fleet_stays_near_what_each_site_has_published(
    published: Path, tmp_path: Path, monkeypatch: Patch, capsys: Caught
) -> None:
    site = copy(published, tmp_path)
    words = ("fleet", str(site), "--seconds", "1", "--workers", "1")
    assert run(monkeypatch, capsys, *words).code == 0
    draft = Draft.model_validate_json((site / "out" / "draft.json").read_text("utf-8"))
    assert draft.since_issue == 1
    assert roster(site).visits == roster(published).visits


def test_what_was_found_teaches_the_next_plan(
    second: Path, monkeypatch: Patch, capsys: Caught
) -> None:
    ran: Ran = run(monkeypatch, capsys, "log", str(second), "--fit", "--json")
    (learned,) = ran.json
    assert (learned["finds"], learned["refills"]) == (1, 1)
    assert learned["loss"]["median_factor"] > learned["loss_prior"]["median_factor"]


def test_a_fault_between_ledger_and_files_is_finished_by_publishing_again(
    drafted: Path, tmp_path: Path, monkeypatch: Patch, capsys: Caught
) -> None:
    site = copy(drafted, tmp_path)

    def gone(_fresh: Path, _folder: Path) -> None:
        raise KeyboardInterrupt

    at = roster(site).horizon.starts_at
    with open_sqlite(site / FILE_NAME) as store, monkeypatch.context() as broken:
        broken.setattr(out_folder, "put_in_place", gone)
        with pytest.raises(KeyboardInterrupt):
            publish(site, store, at, some_ids())
    assert texts(site) == texts(drafted)  # one issue throughout: still the draft
    (issue,) = issues(site)
    assert issue.number == 1
    again = run(monkeypatch, capsys, "publish", str(site), "--now", TUESDAY)
    assert again.code == 0
    assert len(issues(site)) == 1
    assert "Issue 1" in texts(site)["board.html"].decode()
    assert "draft.json" not in texts(site)


def test_a_ledger_that_takes_nothing_leaves_the_draft_as_it_was(
    drafted: Path, tmp_path: Path, monkeypatch: Patch
) -> None:
    site = copy(drafted, tmp_path)
    at = roster(site).horizon.starts_at

    def full(*_: object) -> None:
        raise InputError([Problem(Place("ledger"), "", "disk full")])

    with open_sqlite(site / FILE_NAME) as store:
        monkeypatch.setattr(store, "publish", full)
        with pytest.raises(InputError, match="disk full"):
            publish(site, store, at, some_ids())
    assert texts(site) == texts(drafted)
    assert issues(site) == []
