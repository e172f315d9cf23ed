"""Wetting by the clock keeps the rules and asks for nothing but the clock."""

from pathlib import Path

import pytest

from models.records import CoverNeed, CoverSupply, Stretch
from scheduler.clocked import run_clocks
from scheduler.methods.expand import expand
from scheduler.workflow import audit
from tests.bench.dispatched import as_roster
from tests.bench.fixed_interval import INTERVALS_H, FixedInterval, wetted_every
from tests.bench.simulator import simulate
from tests.scheduler.solver.solver_builders import (
    duty,
    shift,
    surface,
    tap,
    work_list,
)

DEMO = Path(__file__).parents[2] / "demo" / "tamarind"


@pytest.mark.parametrize("hours", INTERVALS_H)
def test_the_audit_finds_no_rule_broken_on_a_site(hours: int) -> None:
    clocked = run_clocks(DEMO)
    work = expand(
        clocked.site_input, clocked.surfaces, clocked.hydration, clocked.drying
    )
    roster = as_roster(work, wetted_every(work, hours), "by the clock")
    assert simulate(work, roster).violations == []
    assert audit(clocked, roster).violations == ()


def test_a_cover_is_wetted_so_long_after_its_last_wetting() -> None:
    # Wet as the week begins; at 20 min each the next begin at 120, 260, 400, 540.
    visits = wetted_every(work_list(surface()), 2)
    assert [visit.start for visit in visits] == [120, 260, 400, 540]


def test_work_is_done_in_the_order_in_which_it_falls_due() -> None:
    works = surface(tasks=(duty("S/b", earliest_min=10), duty("S/a", earliest_min=5)))
    visits = FixedInterval(work_list(works), 600).run()
    # Walked to in the first three minutes; half an hour each.
    assert [(v.task.id, v.start) for v in visits] == [("S/a", 5), ("S/b", 35)]


def test_a_gang_and_its_party_do_one_job_at_a_time() -> None:
    party = shift("red 1", id="red 1/day", hands=("red 1",), part_of="red/day")
    gang = shift(people=4, hands=("red 1", "red 2"))
    long = duty("S/long", people=4, duration_min=200)
    works = surface("S", tasks=(long,)), surface("T", tasks=(duty("T/look"),))
    visits = FixedInterval(work_list(*works, shifts=(gang, party)), 10_000).run()
    (first, second) = sorted(visits, key=lambda visit: visit.start)
    assert first.start + first.task.duration_min <= second.start


def test_covers_wait_until_others_are_off_and_washed() -> None:
    lays = duty("S/lay", kind="lay_cover", covers=True, effect="wet")
    wants = CoverNeed(kind="burlap_double", area_m2=200, laid_by="S/lay")
    lies = CoverNeed(
        kind="burlap_double", area_m2=200, lies_from_min=-60,
        lifted_by=("T/lift",), turnaround_min=60,
    )  # fmt: skip
    lift = duty("T/lift", kind="remove_cover", earliest_min=100)
    bare = (Stretch(from_min=0, until_min=600),)
    works = (
        surface(
            "S", tasks=(lays,), covered_from_min=None, rewet=None, fresh=bare,
            cover_needs=(wants,),
        ),
        surface("T", tasks=(lift,), rewet=None, cover_needs=(lies,)),
    )  # fmt: skip
    owned = (CoverSupply(kind="burlap_double", stock_m2=300),)
    visits = FixedInterval(work_list(*works, covers=owned), 120).run()
    starts = {visit.task.id: visit.start for visit in visits}
    # The lift takes 30 min from 100 on, the washing 60.
    assert starts == {"T/lift": 100, "S/lay": 100 + 30 + 60}


def test_nobody_wets_where_there_is_no_water() -> None:
    dry = work_list(surface(), supplies=(tap(flow_l_min=1),))
    assert wetted_every(dry, 2) == []
