"""The foreman keeps every rule of the yardstick, and does as foremen do."""

from pathlib import Path

import pytest

from models.records import CrewShift, Roster, Stretch, Task
from scheduler.clocked import run_clocks
from scheduler.workflow import audit
from tests.bench.dispatched import as_roster
from tests.bench.fixed_interval import wetted_every
from tests.bench.foreman import foremans_plan, written
from tests.bench.sense.week import Week
from tests.bench.weeks import SiteFolder
from tests.bench.yard.facts import SiteFacts, site_facts
from tests.bench.yard.measure import measure
from tests.bench.yard.rows import Row, read_rows, rows_of
from tests.scheduler.solver.solver_builders import (
    duty,
    rewet,
    shift,
    surface,
    work_list,
)

DEMOS = Path(__file__).parents[2] / "demo"


def _gang(**fields: object) -> CrewShift:
    base: dict[str, object] = {"people": 4, "skills": ("labourer", "fogger")}
    return shift("red", **(base | fields))


def _slab(gang: CrewShift, *more: Task, lay_min: int = 106) -> SiteFacts:
    """200 m² to lay from minute 100 on, by two in some time; it takes fog."""
    lay = duty(
        "S/lay", kind="lay_cover", title="Lay burlap", earliest_min=100,
        duration_min=lay_min, people=2, effect="wet", covers=True,
    )  # fmt: skip
    fog = duty(
        "S/fog", kind="fog", effect="protect", skills=("fogger",), earliest_min=60,
        latest_min=400,
    )  # fmt: skip
    slab = surface(
        tasks=(fog, lay, *more), covered_from_min=None, area_m2=200,
        fresh=(Stretch(from_min=60, until_min=600),),
    )  # fmt: skip
    return site_facts(work_list(slab, shifts=(gang,)))


def _rows(facts: SiteFacts, action: str) -> list[Row]:
    return [row for row in foremans_plan(facts) if row.action == action]


@pytest.mark.parametrize(
    "demo", ["tamarind", pytest.param("larkmere", marks=pytest.mark.slow)]
)
def test_on_a_site_he_breaks_no_rule_and_beats_wetting_by_the_clock(demo: str) -> None:
    work = SiteFolder(DEMOS / demo).work()
    facts = site_facts(work)
    plan = measure(facts, foremans_plan(facts))
    assert plan.violations == ()
    by_clock = as_roster(work, wetted_every(work, 2), "by the clock")
    assert plan.area_cost < measure(facts, rows_of(_week(demo, by_clock))).area_cost


def _week(demo: str, roster: Roster) -> Week:
    clocked = run_clocks(DEMOS / demo)
    return Week(clocked.site_input, roster, audit(clocked, roster))


def test_two_plans_of_one_site_are_the_same() -> None:
    one, other = (_slab(_gang()) for _ in range(2))
    assert foremans_plan(one) == foremans_plan(other)


def test_two_fog_until_two_can_lay_and_fog_the_rest_meanwhile() -> None:
    facts = _slab(_gang())
    fog, lay = _rows(facts, "fog"), _rows(facts, "lay")
    # 200 m² take two foggers of 150 m² each, from just before minute 60 on.
    assert 55 <= fog[0].start_min <= 60
    assert fog[0].people == 2
    assert min(row.start_min for row in lay) == 100
    assert any(row.start_min >= 100 for row in fog)
    assert sum(row.share for row in lay) == pytest.approx(1)
    assert measure(facts, foremans_plan(facts)).violations == ()


def test_before_nobody_is_there_all_lay_and_nobody_fogs() -> None:
    # From minute 100 to 160 four people have 240 worker-minutes for 600.
    facts = _slab(_gang(ends_min=160), lay_min=306)
    lay, fog = _rows(facts, "lay"), _rows(facts, "fog")
    assert sum(row.people for row in lay if row.start_min < 110) == 4
    assert all(row.start_min < 100 for row in fog)


def test_a_break_is_a_pause_and_no_end() -> None:
    facts = _slab(_gang(people=2, breaks=(Stretch(from_min=120, until_min=150),)))
    first, second, *_ = _rows(facts, "lay")
    assert (first.end_min, second.start_min) == (120, 150)
    assert second.goes_on
    assert second.set_up_min == 0


def test_a_break_beside_a_ban_is_taken_in_it() -> None:
    gang = _gang(breaks=(Stretch(from_min=300, until_min=330),))
    facts = _slab(gang)
    hot = facts.work.model_copy(
        update={"heat_bans": (Stretch(from_min=200, until_min=300),)}
    )
    (pause,) = _rows(site_facts(hot), "break")
    assert (pause.start_min, pause.end_min) == (270, 300)


def test_covers_are_topped_up_before_he_goes_home() -> None:
    # Full at 0, dry at 120 and after each wetting; home at 300, the week ends at 600.
    wet = surface(area_m2=200, reserve_at_start_l_m2=1, rewet=rewet("S"))
    facts = site_facts(work_list(wet, shifts=(_gang(ends_min=300),)))
    last = _rows(facts, "rewet")[-1]
    assert 240 <= last.end_min <= 300


def test_a_plan_is_read_back_as_it_was_written(tmp_path: Path) -> None:
    facts = _slab(_gang())
    plan = foremans_plan(facts)
    path = tmp_path / "plan.csv"
    path.write_text("\n".join(",".join(line) for line in written(facts, plan)) + "\n")
    read = read_rows(path, facts.clock)
    assert [(r.words, r.start_min, r.end_min, r.who) for r in read] == [
        (r.words, r.start_min, r.end_min, r.who) for r in plan
    ]
