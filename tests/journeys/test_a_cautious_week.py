"""A week planned on the dry side of the forecast, beside the same planned plainly."""

from pathlib import Path

import pytest

from models.files.site_folder import read_folder
from models.records import AuditReport, Roster
from scheduler.cli.app import app
from scheduler.workflow import PlanOptions, prepare
from tests.models.files.folders import write_site

pytestmark = pytest.mark.slow

Week = tuple[Roster, AuditReport, str]


def planned(site: Path, *options: str) -> Week:
    app(["plan", str(site), *options], standalone_mode=False)
    roster, report, board = (
        (site / "out" / name).read_text("utf-8")
        for name in ("roster.json", "audit.json", "board.html")
    )
    return (
        Roster.model_validate_json(roster),
        AuditReport.model_validate_json(report),
        board,
    )


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write_site(tmp_path_factory.mktemp("cautious"))


@pytest.fixture(scope="module")
def plain(site: Path) -> Week:
    return planned(site)


@pytest.fixture(scope="module")
def dry(site: Path, plain: Week) -> Week:
    del plain  # the folder's output is this one's from here on
    return planned(site, "--dry-side")


def test_covers_lose_more_and_curing_ends_no_sooner_than_the_forecast_has_it(
    site: Path,
) -> None:
    # Before any roster: the same minute, but where more of the time before the week
    # does not count, being dry. What a roster leaves dry may put either end off.
    plain, dry = (
        prepare(read_folder(site), PlanOptions(on_dry_side=on_dry_side)).work
        for on_dry_side in (False, True)
    )
    for expected, cautious in zip(plain.surfaces, dry.surfaces, strict=True):
        assert cautious.ends_min >= expected.ends_min
        if expected.curve is not None and cautious.curve is not None:
            lost = sum(cautious.curve.loss_l_m2_h)
            assert lost > sum(expected.curve.loss_l_m2_h)


def test_the_audit_plays_on_the_same_clock_and_on_the_forecast_too(
    plain: Week, dry: Week
) -> None:
    roster, report, _ = dry
    assert report.violations == ()
    assert report.dry_min == sum(gap.minutes for gap in roster.gaps)
    assert report.forecast_dry_min is not None
    assert report.forecast_dry_min <= report.dry_min
    assert plain[1].forecast_dry_min is None


def test_people_are_told(plain: Week, dry: Week) -> None:
    assert (plain[0].forecast_side, dry[0].forecast_side) == ("expected", "dry")
    assert "Planned for warmer, windier weather than forecast" in dry[2]
    assert "dry side" not in plain[2]
