"""A new week's folder on a ledger that has the week before: pours curing still."""

import shutil
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from models.errors import InputError
from models.files.site_folder import read_folder
from models.ledger.sqlite_store import FILE_NAME, open_sqlite
from models.records import (
    EventWindow,
    Horizon,
    Roster,
    Surface,
    Task,
    Visit,
    VisitIdentity,
)
from scheduler.cli.app import app
from scheduler.cli.ledgers import DATABASE, published_so_far
from scheduler.clocked import Clocked
from scheduler.happened.so_far import SoFar
from scheduler.workflow import Prepared, as_published, prepare
from tests.models.files.folders import (
    POURS,
    READINGS,
    SITE,
    changed,
    weather_csv,
    write_site,
)
from tests.scheduler.cli.command_line import run

SUNDAY, SATURDAY, MONDAY = "2027-05-02 18:00", "2027-05-08 18:00", "2027-05-10 05:00"
#: The longest of its kind: all four pours of the week are curing on Monday.
LONG = ('profile = "en13670_class3"', 'profile = "en13670_class4"')
WEEK_2 = (
    LONG,
    ('week_start = "2027-05-03 06:00"', 'week_start = "2027-05-10 06:00"'),
    ('at = "2027-05-06 10:00"', 'at = "2027-05-13 10:00"'),
)
HEAD, Q1, Q2, H1, W1 = POURS.splitlines()
Q3 = "Q3,A,slab_on_ground,2027-05-11 07:30,2027-05-11 11:00,200,250,,,C30,burlap_double,,2,,"  # noqa: E501
#: A forecast that begins when the new week does, and hours up to there.
FORECAST = weather_csv(datetime(2027, 5, 10, 6), 9 * 24)  # noqa: DTZ001
#: From the hour in which the wall was placed to the end of the forecast.
ALL_WEATHER = weather_csv(datetime(2027, 5, 1, 9), 18 * 24 - 3)  # noqa: DTZ001
STARTS_AT = datetime(2027, 5, 10, 4, tzinfo=UTC)
FINISHED, LAID = "2027-05-05 11:00", timedelta(minutes=40)
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
def first(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The first week, published, with what its crews wrote down."""
    site = write_site(
        tmp_path_factory.mktemp("first") / "wharf", {"site.toml": changed(SITE, LONG)}
    )
    keepdamp("plan", str(site), "--seconds", "1")
    keepdamp("publish", str(site), "--now", SUNDAY)
    log = "log", str(site)
    said = ("--by", "JM", "--now", SATURDAY)
    keepdamp(*log, "placing-finished", "H1", "--at", FINISHED, *said)
    lay = laying(site, "Q2-top")
    at = lay.ends_at + LAID
    keepdamp(*log, "work-done", lay.id, "--at", f"{at:%Y-%m-%d %H:%M}+00:00", *said)
    last = wettings(site, "Q1-top")[-1]
    keepdamp(*log, "work-failed", last.id, "--at", "2027-05-08 17:00", *said)
    warm = "--at", "2027-05-07 14:00", "--temperature", "29"
    keepdamp(*log, "weather-observed", *warm, *said)
    return site


@pytest.fixture(scope="module")
def second(first: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The same folder with the next week's start, pour and forecast."""
    return week_2(first, tmp_path_factory.mktemp("second"))


def week_2(first: Path, to: Path, **files: str) -> Path:
    site = Path(shutil.copytree(first, to / "wharf"))
    standard = {
        "site.toml": changed(SITE, *WEEK_2),
        "pours.csv": f"{HEAD}\n{Q3}\n",
        "weather.csv": FORECAST,
    }
    names = {name.replace("_", "."): text for name, text in files.items()}
    for name, text in {**standard, **names}.items():
        (site / name).write_text(text, "utf-8")
    return site


def so_far(site: Path) -> SoFar:
    found = published_so_far(site)
    assert found is not None
    return found


def prepared(site: Path) -> Prepared:
    return prepare(read_folder(site), so_far=so_far(site))


def refused(site: Path) -> str:
    with pytest.raises(InputError, match="problem") as told:
        prepared(site)
    return str(told.value)


def issue(site: Path, number: int) -> Roster:
    with open_sqlite(site / FILE_NAME) as store:
        found = store.issue(number)
    assert found is not None
    return Roster.model_validate_json(found.roster)


def _visits_of(site: Path, surface_id: str) -> Iterator[tuple[Visit, Task]]:
    roster = issue(site, 1)
    (work,) = (one for one in roster.surfaces if one.surface_id == surface_id)
    tasks = {task.id: task for task in work.tasks}
    if work.rewet is not None:
        tasks[work.rewet.id] = work.rewet
    mine = (one for one in roster.visits if one.surface_id == surface_id)
    for visit in sorted(mine, key=lambda one: one.ends_at):
        yield visit, tasks[visit.task_id]


def laying(site: Path, surface_id: str) -> Visit:
    (found,) = (v for v, task in _visits_of(site, surface_id) if task.covers)
    return found


def wettings(site: Path, surface_id: str) -> list[Visit]:
    return [
        visit
        for visit, task in _visits_of(site, surface_id)
        if task.refills and not task.facts.lays and visit.ends_at <= STARTS_AT
    ]


def cell(at: datetime) -> str:
    return f"{at.astimezone(UTC):%Y-%m-%dT%H:%M}+00:00"


def spliced(first: Path, to: Path) -> Path:
    """The folder as a planner would copy it together by hand, on the same ledger."""
    h1 = H1.replace("2027-05-05 10:30", FINISHED)
    rows = [HEAD]
    laid = {
        name: laying(first, f"{name}-top").ends_at for name in ("Q1", "Q2", "H1")
    }  # fmt: skip
    laid["Q2"] += LAID
    for name, row in (("Q1", Q1), ("Q2", Q2), ("H1", h1)):
        wet = [one.ends_at for one in wettings(first, f"{name}-top")]
        wet = wet[:-1] if name == "Q1" else wet  # the last one failed
        last = cell(wet[-1]) if wet else ""
        rows.append(f"{row.removesuffix(',,')},{cell(laid[name])},{last}")
    wall_wet = wettings(first, "W1-top")[-1].ends_at
    rows.append(f"{W1.rpartition(',')[0]},{cell(wall_wet)}")
    pours = "\n".join([*rows, Q3]) + "\n"
    return week_2(first, to, pours_csv=pours, weather_csv=ALL_WEATHER)


def test_what_is_carried_is_what_a_planner_would_have_spliced_in(
    first: Path, second: Path, tmp_path: Path
) -> None:
    now, by_hand = prepared(second), prepared(spliced(first, tmp_path))
    assert by_hand.from_before is None
    before = now.from_before
    assert before is not None
    assert (before.issue_number, before.bare_ids) == (1, ())
    assert before.pour_ids == ("Q1", "Q2", "H1", "W1")
    assert state(now) == state(by_hand)


def test_rows_of_last_week_that_were_left_in_the_folder_get_their_covers(
    first: Path, second: Path, tmp_path: Path
) -> None:
    pours = "\n".join([HEAD, Q1, Q2, H1, W1, Q3]) + "\n"
    made = prepared(week_2(first, tmp_path, pours_csv=pours))
    assert made.from_before is None
    ours, theirs = state(made), state(prepared(second))
    del ours["W1-top"], theirs["W1-top"]  # its row says when it was wetted, long before
    assert ours == theirs


def state(made: Prepared) -> dict[str, tuple[object, ...]]:
    """Events and ends of curing, and what is in covers when the week starts."""
    events = {one.surface_id: one for one in made.expected.hydration.events}
    return {
        work.surface_id: (
            events[work.surface_id], made.ends_at.get(work.surface_id), work.ends_min,
            work.covered_from_min, work.reserve_at_start_l_m2,
        )
        for work in made.work.surfaces
    }  # fmt: skip


def test_faces_that_were_struck_and_covered_come_with_their_times(
    first: Path, second: Path
) -> None:
    faces = surface(prepared(second).expected, "W1-faces")
    assert faces.covered_at == laying(first, "W1-faces").ends_at
    assert faces.wetted_at == wettings(first, "W1-faces")[-1].ends_at


def surface(clocked: Clocked, surface_id: str) -> Surface:
    return next(one for one in clocked.surfaces if one.id == surface_id)


def test_the_forecast_is_joined_to_the_weather_before_it(second: Path) -> None:
    hours = prepared(second).expected.site_input.weather.hours
    assert hours[0].at == datetime(2027, 5, 1, 7, tzinfo=UTC)  # W1 is placed
    known = {hour.at.astimezone(UTC): hour for hour in hours}
    assert known[datetime(2027, 5, 7, 12, tzinfo=UTC)].air_temperature_c == 29
    assert hours[-1].at == datetime(2027, 5, 19, 3, tzinfo=UTC)


def test_a_pour_whose_cover_could_not_be_laid_comes_bare(
    first: Path, tmp_path: Path, monkeypatch: Patch, capsys: Caught
) -> None:
    site = week_2(first, tmp_path)
    failed = "log", str(site), "work-failed", laying(first, "H1-top").id
    keepdamp(*failed, "--at", "2027-05-05 15:00", "--by", "JM", "--now", SATURDAY)
    made = prepared(site)
    assert made.from_before is not None
    assert made.from_before.bare_ids == ("H1-top",)
    assert surface(made.expected, "H1-top").covered_at is None
    said = run(monkeypatch, capsys, "check", str(site)).out
    assert "NO COVER was laid on H1 Pump hall, top." in said


def test_what_the_folder_lacks_for_a_carried_pour_is_named(
    first: Path, tmp_path: Path
) -> None:
    toml = changed(SITE, *WEEK_2, ('id = "C30"', 'id = "C35"'))
    pours = f"{HEAD}\n{Q3.replace('C30', 'C35')}\n"
    said = refused(week_2(first, tmp_path, site_toml=toml, pours_csv=pours))
    assert said.splitlines()[1:] == [
        f"  site.toml, mix: found no mix 'C30'; expected that of pour {name}, which "
        "issue 1 has curing still. Keep it in the folder until curing is over"
        for name in ("Q1", "Q2", "H1", "W1")
    ]


def test_hours_that_neither_forecast_nor_ledger_has_are_named(
    first: Path, tmp_path: Path
) -> None:
    # The first week's weather ends with 13 May.
    late = weather_csv(datetime(2027, 5, 15, 6), 12 * 24)  # noqa: DTZ001
    start = ('week_start = "2027-05-10 06:00"', 'week_start = "2027-05-15 06:00"')
    toml = changed(changed(SITE, *WEEK_2), start)
    pours = f"{HEAD}\n{Q3.replace('05-11', '05-16')}\n"
    files = {"site_toml": toml, "pours_csv": pours, "weather_csv": late}
    assert refused(week_2(first, tmp_path, **files)).splitlines()[1:] == [
        "  weather.csv, time: no hours from 2027-05-14 00:00 to 2027-05-15 06:00, nor "
        "has issue 1 any. Add them, as measured or from an older forecast"
    ]


def test_without_a_ledger_the_forecast_has_to_reach_back(
    first: Path, tmp_path: Path
) -> None:
    pours = f"{HEAD}\n{Q1}\n{Q3}\n"
    site = week_2(first, tmp_path, pours_csv=pours)
    assert prepared(site).from_before is not None  # Q2, H1 and W1
    with pytest.raises(InputError, match="hours from 2027-05-10 06:00 to"):
        prepare(read_folder(site))


def test_readings_of_last_week_may_stay_and_those_of_nothing_may_not(
    first: Path, tmp_path: Path
) -> None:
    rows = READINGS + "Z9-top,2027-05-09 08:00,core,21\n"
    said = refused(week_2(first, tmp_path, readings_csv=rows))
    (problem,) = said.splitlines()[1:]
    assert problem.startswith("  readings.csv:4, surface: found 'Z9-top'; expected a")


def test_a_ledger_of_another_site_is_refused(first: Path, tmp_path: Path) -> None:
    toml = changed(SITE, *WEEK_2, ('name = "Heron Wharf"', 'name = "Gull Quay"'))
    assert "'Heron Wharf', the site of issue 1" in refused(
        week_2(first, tmp_path, site_toml=toml)
    )


def test_pours_that_have_cured_and_are_uncovered_stay_behind(
    first: Path, tmp_path: Path
) -> None:
    start = ('week_start = "2027-05-10 06:00"', 'week_start = "2027-05-27 06:00"')
    # Nor does anybody need their mix any more.
    toml = changed(changed(SITE, *WEEK_2), start, ('id = "C30"', 'id = "C35"'))
    pours = f"{HEAD}\n{Q3.replace('05-11', '05-28').replace('C30', 'C35')}\n"
    weather = weather_csv(hours=35 * 24)
    files = {"site_toml": toml, "pours_csv": pours, "weather_csv": weather}
    made = prepared(week_2(first, tmp_path, **files))
    assert made.from_before is None
    assert [pour.id for pour in made.expected.site_input.pours] == ["Q3"]


@settings(max_examples=6, deadline=None, phases=[Phase.explicit, Phase.generate])
@given(later_h=st.integers(0, 60))
def test_no_credited_day_is_lost_however_late_the_new_week_begins(
    second: Path, later_h: int
) -> None:
    """Days before the cut count wherever it lies; no end is earlier than was told."""
    files, known = read_folder(second), so_far(second)
    week = files.site_input
    assert week is not None
    starts_at = week.horizon.starts_at + timedelta(hours=later_h)
    horizon = Horizon(starts_at=starts_at, ends_at=week.horizon.ends_at)
    later = week.model_copy(update={"horizon": horizon})
    made = prepare(replace(files, site_input=later), so_far=known)
    ends, monday = clock_ends(made), clock_ends(prepare(files, so_far=known))
    told = {
        work.surface_id: known.issue.horizon.at(work.ends_min)
        for work in known.issue.surfaces
    }
    assert {name: monday[name] for name in ends} == ends
    for work in made.work.surfaces:
        if work.surface_id in told:
            assert horizon.at(work.ends_min) >= told[work.surface_id]
    for surface_id in monday.keys() - ends.keys():  # their pours stayed behind
        assert told[surface_id] <= starts_at


def clock_ends(made: Prepared) -> dict[str, EventWindow | None]:
    events = made.expected.hydration.events
    return {one.surface_id: one.curing_ends for one in events}


def test_tonight_plays_the_issue_that_is_running_on_what_is_known(
    first: Path, second: Path
) -> None:
    # The folder has moved on; the newest issue is that of the week before.
    expected, roster = as_published(read_folder(second), so_far(second))
    assert roster == issue(first, 1)
    assert expected.site_input.horizon == roster.horizon
    placed = {pour.id: pour.placing_ends_at for pour in expected.site_input.pours}
    assert placed.keys() == {"Q1", "Q2", "H1", "W1"}
    assert placed["H1"] == datetime(2027, 5, 5, 9, tzinfo=UTC)  # as finished


def test_the_new_week_is_planned_published_and_told(
    second: Path, tmp_path: Path, monkeypatch: Patch, capsys: Caught
) -> None:
    site = Path(shutil.copytree(second, tmp_path / "wharf"))
    words = "From issue 1: 4 pours still curing or under covers (Q1, Q2, H1, W1); "
    checked = run(monkeypatch, capsys, "check", str(site))
    assert words in checked.out
    assert words in run(monkeypatch, capsys, "plan", str(site), "--seconds", "1").out
    told = run(monkeypatch, capsys, "publish", str(site), "--now", MONDAY, "--json")
    kinds = [one["kind"] for one in told.json["changes"]["changes"]]
    assert set(kinds) == {"added"}
    known = {one.visit_id for one in identities(site, 2) if one.visit_id is not None}
    assert known == {visit.id for visit in issue(site, 2).visits}
    assert not [one for one in identities(site, 2) if one.state == "cancelled"]
    night = run(monkeypatch, capsys, "tonight", str(site), "--at", "2027-05-10 18:00")
    assert night.code == 0
    assert "Q1 Quay slab, top" in night.out
    # The folder names H1 no more; its record has both of its weeks.
    record = run(monkeypatch, capsys, "record", str(site), "H1-top")
    assert record.code == 0
    assert (site / "records" / "H1-top.pdf").exists()
    # The week goes on from its own issue, which has the older pours with it.
    again = prepared(site)
    assert again.from_before is not None
    assert again.from_before.issue_number == 2
    ours, theirs = state(again), state(prepared(second))
    for name in theirs.keys() - {"Q3-top"}:
        (events, _, ends_min, *covers), was = ours[name], theirs[name]
        assert (events, *covers) == (was[0], *was[3:])
        # Dry time of the new week may have put the end off; that was told.
        assert isinstance(ends_min, int)
        assert isinstance(was[2], int)
        assert ends_min >= was[2]


def identities(site: Path, number: int) -> tuple[VisitIdentity, ...]:
    with open_sqlite(site / FILE_NAME) as store:
        return store.visits(number)
