"""Promises of the solver, on sites drawn by lot and played by the simulator."""

import pytest

from models.records import Roster, WorkList
from scheduler.solver.search.effort import Effort
from scheduler.solver.solve import solve
from tests.bench.dispatched import dispatch_roster
from tests.bench.instances import Size, instance
from tests.bench.simulator import simulate
from tests.scheduler.solver.solver_builders import surface, work_list

SHORT = Effort(work=0.1)
SIZES = [
    (Size(3, days=2, tightness=0.5), 1),
    (Size(5, days=2, tightness=0.9, rain=True), 2),
    (Size(6, days=3, tightness=0.7), 3),
    (Size(8, days=2, tightness=1.2, rain=True), 4),
    (Size(10, days=2, crews=2), 5),
    (Size(9, days=3, crews=4, rain=True), 6),
]


def part(roster: Roster, name: str) -> tuple[float, float]:
    found = next(part for part in roster.objective if part.name == name)
    return found.amount, found.cost


@pytest.mark.parametrize(("size", "seed"), SIZES)
def test_the_simulator_finds_what_the_roster_claims(size: Size, seed: int) -> None:
    work = instance(size, seed)
    roster = solve(work, SHORT, seed)
    played = simulate(work, roster)
    assert played.violations == []
    assert played.total == pytest.approx(roster.cost)
    assert part(roster, "dry") == pytest.approx((played.dry_min, played.cost["dry"]))
    for name in ("late", "missed", "call_out", "overtime", "travel"):
        expected = (played.amount[name], played.cost[name])
        assert part(roster, name) == pytest.approx(expected), name
    assert sum(gap.minutes for gap in roster.gaps) == played.dry_min


@pytest.mark.parametrize(("size", "seed"), SIZES[:3])
def test_the_dispatcher_of_the_bench_breaks_no_rule_and_is_beaten(
    size: Size, seed: int
) -> None:
    work = instance(size, seed)
    baseline = simulate(work, dispatch_roster(work))
    assert baseline.violations == []
    assert solve(work, SHORT).cost <= baseline.total


def shuffled(work: WorkList) -> WorkList:
    surfaces = [
        surface.model_copy(update={"tasks": surface.tasks[::-1]})
        for surface in reversed(work.surfaces)
    ]
    return work.model_copy(
        update={
            "surfaces": tuple(surfaces),
            "shifts": work.shifts[::-1],
            "supplies": work.supplies[::-1],
        }
    )


def test_the_same_input_gives_the_same_bytes_in_any_order() -> None:
    work = instance(Size(6, days=2), 7)
    first = solve(work, SHORT).model_dump_json()
    assert solve(work, SHORT).model_dump_json() == first
    assert solve(shuffled(work), SHORT).model_dump_json() == first


def test_another_seed_is_noted_in_the_roster() -> None:
    roster = solve(instance(Size(3, days=1), 1), Effort(work=0.02), seed=7)
    assert roster.seed == 7
    assert "work 0.02" in roster.solver_words


def test_a_site_that_needs_nothing_costs_nothing() -> None:
    resting = surface(curve=None, rewet=None)
    roster = solve(work_list(resting), SHORT)
    assert (roster.visits, roster.gaps, roster.cost) == ((), (), 0)


def test_a_site_without_surfaces_is_no_error() -> None:
    assert solve(work_list(), SHORT).visits == ()


def test_visits_run_in_order_and_rewets_are_counted() -> None:
    roster = solve(work_list(surface("S"), surface("T")), SHORT)
    keys = [(visit.starts_at, visit.crew_id, visit.id) for visit in roster.visits]
    assert keys == sorted(keys)
    own = [visit.id for visit in roster.visits if visit.surface_id == "S"]
    assert own == [f"S/rewet/{n + 1}" for n in range(len(own))]


def test_progress_rises_to_the_end_and_costs_fall() -> None:
    told: list[tuple[float, float]] = []
    work = instance(Size(6, days=2), 7)
    solve(work, SHORT, progress=lambda share, cost: told.append((share, cost)))
    assert told
    assert [share for share, _ in told] == sorted(share for share, _ in told)
    assert [cost for _, cost in told] == sorted((c for _, c in told), reverse=True)


def test_seconds_end_the_search_too() -> None:
    work = instance(Size(4, days=1), 1)
    roster = solve(work, Effort(seconds=0.0))
    assert simulate(work, roster).violations == []
