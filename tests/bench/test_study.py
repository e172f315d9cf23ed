"""The adapter of study instances asks for every rule of the study, and for no other."""

import json
from pathlib import Path
from typing import Any

import pytest

from scheduler.solver.search.effort import Effort
from scheduler.solver.solve import solve
from tests.bench.simulator import simulate
from tests.bench.study import read_study


def pour(name: str, **fields: object) -> dict[str, Any]:
    """Under its cover from the start, empty after two hours; a dry minute costs 2."""
    base: dict[str, Any] = {
        "id": name, "zone": 0, "area": 100, "risk": 1, "cap": 1.0, "evap_factor": 1.0,
        "ready": -300, "latest": -240, "cure_end": 1440, "carried": True,
        "initial_deficit": 0.0, "age_weights": [[0, 2]], "sources": [0], "cover": None,
        "rewet": {"dur": 20, "setup": 5}, "inspect": [], "uncover": None,
        "compound": None,
    }  # fmt: skip
    return base | fields


def crew(name: str, kinds: list[str]) -> dict[str, Any]:
    return {
        "id": name, "skills": kinds, "home": 0, "shifts": [[0, 600]], "callouts": [],
        "overtime_max": 60,
    }  # fmt: skip


@pytest.fixture
def instance(tmp_path: Path) -> Path:
    """Two pours of one zone on two taps; one gang that may not inspect, one spare."""
    looks = [{"id": "look", "window": [0, 500], "dur": 10}]
    told = {
        "horizon": 600, "evap_l_m2_h": [0.5] * 10, "zones": [{"id": "z"}],
        "travel": [[4]], "pours": [pour("a", inspect=looks), pour("b", sources=[1])],
        "crews": [crew("wets", ["rewet", "cover"]), crew("looks", ["inspect"])],
        "sources": [
            {"id": s, "flow": 90, "daily": None, "tank": None} for s in ("s0", "s1")
        ],
        "costs": {
            "overtime": 2, "travel": 0.2, "exposed_mult": 3, "inspect_miss": 150,
            "inspect_late": 1,
        },
    }  # fmt: skip
    path = tmp_path / "small.json"
    path.write_text(json.dumps(told))
    return path


def test_pours_draw_from_their_own_sources_and_gangs_do_what_they_can(
    instance: Path,
) -> None:
    work = read_study(instance)
    roster = solve(work, Effort(work=0.05))
    assert simulate(work, roster).violations == []
    points = {(v.surface_id, v.water_point_id) for v in roster.visits}
    assert points == {("a", "s0"), ("b", "s1"), ("a", None)}
    gangs = {(v.task_id, v.crew_id) for v in roster.visits}
    assert gangs == {("a/rewet", "wets"), ("b/rewet", "wets"), ("a/look", "looks")}


def test_it_walks_between_visits_to_one_pour_too(instance: Path) -> None:
    work = read_study(instance)
    assert work.walks_on_surface
    assert set(work.travel_min) == {(4, 4, 4)}  # home, and a part a tap
