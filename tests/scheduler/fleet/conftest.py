"""What ``keepdamp plan`` writes for the small sites, planned once for all tests."""

from pathlib import Path

import pytest

from scheduler.cli.app import app
from tests.scheduler.fleet.small_sites import files_of, small_site

AREAS_M2 = {"north": 60, "once": 20}


@pytest.fixture(scope="session")
def planned_alone(
    tmp_path_factory: pytest.TempPathFactory,
) -> dict[str, dict[str, bytes]]:
    alone = tmp_path_factory.mktemp("alone")
    for name, area_m2 in AREAS_M2.items():
        small_site(alone / name, area_m2)
        app(["plan", str(alone / name)], standalone_mode=False)
    return {name: files_of(alone / name / "out") for name in AREAS_M2}


@pytest.fixture
def sites(tmp_path: Path) -> list[Path]:
    return [small_site(tmp_path / name, area) for name, area in AREAS_M2.items()]
