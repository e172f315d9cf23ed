"""The yardstick on one slab, reckoned by hand.

A slab of 200 m², ready at minute 100 and bare from then on; bare it weighs 3 a minute
of 100 m², dry under its cover 1. Two people lay it in 106 minutes, 6 of them set-up, so
a strip of 20 m² in ten. Its cover holds 1 L/m² and loses half of that in an hour.
"""

from collections.abc import Sequence
from pathlib import Path

import pytest

from models.records import (
    CoverNeed,
    CoverSupply,
    CrewShift,
    Stretch,
    Task,
    WaterNeed,
    WorkList,
)
from tests.bench.sense.made_up_weeks import week
from tests.bench.yard.facts import SiteFacts, site_facts
from tests.bench.yard.measure import Measure, measure
from tests.bench.yard.rows import Row, in_order, read_rows, rows_of
from tests.scheduler.solver.solver_builders import (
    duty,
    rewet,
    shift,
    surface,
    tap,
    work_list,
)


def _lay(**fields: object) -> Task:
    base: dict[str, object] = {
        "kind": "lay_cover", "title": "Lay burlap", "earliest_min": 100,
        "duration_min": 106, "people": 2, "effect": "wet", "covers": True,
    }  # fmt: skip
    return duty("S/lay", **(base | fields))


def _facts(*more: Task, **fields: object) -> SiteFacts:
    needs = fields.pop("cover_needs", ())
    slab = surface(
        tasks=(_lay(), *more), covered_from_min=None, cover_needs=needs,
        fresh=(Stretch(from_min=100, until_min=600),), area_m2=200,
    )  # fmt: skip
    work = work_list(slab, shifts=_gang()).model_copy(update=fields)
    return site_facts(_as_of_100_m2(work))


def _as_of_100_m2(work: WorkList) -> WorkList:
    """Take the builders' weights as those of 100 m²."""
    flat = work.costs.model_copy(update={"area_power": 0})
    return work.model_copy(update={"costs": flat})


def _gang(**fields: object) -> tuple[CrewShift, ...]:
    base: dict[str, object] = {"people": 4, "skills": ("labourer", "fogger")}
    return (shift("red", **(base | fields)),)


def _row(action: str, start: int, end: int, **fields: object) -> Row:
    base: dict[str, object] = {
        "crew": "red", "people": 2, "surface_id": "S", "action": action,
        "point": "tap" if action in {"fog", "rewet"} else "",
    }  # fmt: skip
    return Row(start_min=start, end_min=end, **(base | fields))  # type: ignore[arg-type]  # fields by name


def _judged(rows: Sequence[Row], facts: SiteFacts | None = None) -> Measure:
    return measure(facts or _facts(), in_order(rows))


def test_a_slab_left_bare_costs_by_weight_and_area() -> None:
    # 500 bare minutes at 3, on 200 m²; all of them within a day: 500 / 60 h × 200 m².
    found = _judged([])
    assert found.area_cost == pytest.approx(500 * 3 * 2)
    assert found.bare_24h_m2_h == pytest.approx(500 / 60 * 200)
    assert found.violations == ()


def test_each_strip_is_safe_when_its_cover_lies() -> None:
    # The ten strips are bare for 6 + 10, 6 + 20 … 6 + 100 min: 61 min on the whole.
    # From 216 (the first, full at 116) to 326 one after the other is dry, until 600.
    found = _judged([_row("lay", 100, 206)])
    dry = sum(600 - (106 + 10 * k + 120) for k in range(1, 11)) / 10
    assert found.area_cost == pytest.approx(2 * (3 * 61 + dry))
    assert found.violations == ()


def test_hands_that_are_more_lay_sooner_and_a_break_between_sets_up_once() -> None:
    four = _row("lay", 100, 156, people=4)
    assert _judged([four]).violations == ()
    halves = (
        _row("lay", 100, 131, people=4, share=0.5),
        _row("lay", 161, 186, people=4, share=0.5),  # five strips of 5 min, no set-up
    )
    found = _judged(halves)
    assert found.violations == ()
    assert found.visits == 1


def test_fog_keeps_what_is_laid_last() -> None:
    # Half of the slab is fogged from 100 to 200; all of it is bare otherwise.
    fog = duty("S/fog", kind="fog", effect="protect", skills=("fogger",))
    row = _row("fog", 100, 200, people=1, share=0.5, litres_l=190)
    found = _judged([row], _facts(fog))
    assert found.area_cost == pytest.approx((500 - 50) * 3 * 2)
    assert found.violations == ()


def test_two_who_fog_keep_different_strips() -> None:
    fog = duty("S/fog", kind="fog", effect="protect", skills=("fogger",))
    rows = [
        _row("fog", 100, 200, people=1, share=0.5, litres_l=190),
        _row("fog", 150, 200, people=1, share=0.5, litres_l=95),
    ]
    # A half is kept for 100 min, the other one for 50.
    found = _judged(rows, _facts(fog))
    assert found.area_cost == pytest.approx((500 - 75) * 3 * 2)


def test_a_wetting_fills_what_it_has_passed() -> None:
    lies = surface(area_m2=200, rewet=rewet("S"))
    facts = site_facts(_as_of_100_m2(work_list(lies, minutes=300, shifts=_gang())))
    # The pattern has ten minutes of hose and four of hands after the set-up, so one
    # person takes 14 min; strip k is full by the way and dry again 120 min later.
    row = _row("rewet", 3, 23, people=1, litres_l=200)
    found = _judged([row], facts)
    assert found.area_cost == pytest.approx(2 * (300 - 120))
    assert found.violations == ()


def test_between_two_coats_a_surface_weighs_half() -> None:
    coats = [
        duty(
            f"S/coat{n}", kind="spray_compound", title=f"Spray, coat {n}", people=2,
            duration_min=26, effect=effect, earliest_min=100,
        )
        for n, effect in ((1, "protect"), (2, "seal"))
    ]  # fmt: skip
    slab = surface(
        tasks=tuple(coats), covered_from_min=None, curve=None, rewet=None,
        fresh=(Stretch(from_min=100, until_min=600),), area_m2=200,
    )  # fmt: skip
    facts = site_facts(_as_of_100_m2(work_list(slab, minutes=600, shifts=_gang())))
    found = _judged([_row("spray", 100, 126), _row("spray", 200, 226)], facts)
    # Strip k: bare until 106 + 2k, at half weight until 206 + 2k, as set-up is anew.
    bare = sum(6 + 2 * k for k in range(1, 11)) / 10
    assert found.area_cost == pytest.approx(2 * 3 * (bare + 100 / 2))
    assert found.violations == ()


_NEED = CoverNeed(kind="burlap_double", area_m2=200, laid_by="S/lay", soak_lead_min=60)


@pytest.mark.parametrize(
    ("told", "rows", "given"),
    [
        ("too little time", [_row("lay", 100, 180)], {}),
        ("too few people", [_row("lay", 100, 306, people=1)], {}),
        ("before the surface is ready", [_row("lay", 90, 196)], {}),
        ("no such work", [_row("lift", 100, 200)], {}),
        ("more than the whole", [_row("lay", 100, 206), _row("lay", 300, 406)], {}),
        ("not there", [_row("rewet", 100, 116, litres_l=200)], {}),
        ("outside the shift", [_row("lay", 550, 656)], {}),
        ("skill missing", [_row("fog", 100, 120, litres_l=80, crew="blue")], {}),
        (
            "break",
            [_row("lay", 100, 206)],
            {"shifts": _gang(breaks=(Stretch(from_min=150, until_min=160),))},
        ),
        (
            "ban",
            [_row("lay", 100, 206)],
            {"heat_bans": (Stretch(from_min=150, until_min=160),)},
        ),
        (
            "two places",
            [_row("lay", 100, 206), _row("fog", 110, 130, people=3, litres_l=80)],
            {},
        ),
        (
            "over the stock",
            [_row("lay", 100, 206)],
            {
                "covers": (CoverSupply(kind="burlap_double", stock_m2=150),),
                "cover_needs": (_NEED,),
            },
        ),
        (
            "without soaking",
            [_row("lay", 100, 206)],
            {
                "covers": (CoverSupply(kind="burlap_double", stock_m2=200),),
                "cover_needs": (_NEED,),
            },
        ),
        ("too little water", [_row("fog", 100, 120)], {}),
        (
            "over the flow",
            [_row("fog", 100, 120, litres_l=80)],
            {"supplies": (tap(flow_l_min=3),)},
        ),
        (
            "tank empty",
            [_row("fog", 100, 120, litres_l=80)],
            {"supplies": (tap(capacity_l=100, level_at_start_l=50),)},
        ),
    ],
)
def test_what_cannot_be_done_is_told(
    told: str, rows: list[Row], given: dict[str, object]
) -> None:
    blue = shift("blue", people=4)
    shifts = given.get("shifts", _gang())
    assert isinstance(shifts, tuple)
    facts = _facts(**(given | {"shifts": (*shifts, blue)}))
    (words, *_) = _judged(rows, facts).violations
    assert told in words


def test_cloth_that_somebody_soaked_may_be_laid() -> None:
    facts = _facts(
        cover_needs=(_NEED,),
        covers=(CoverSupply(kind="burlap_double", stock_m2=200),),
    )
    # 200 m² at 0.05 worker-minutes and the set-up: 16 min for one; an hour to soak.
    soak = _row("soak_ahead", 10, 26, people=1, task="burlap_double")
    assert _judged([soak, _row("lay", 100, 206)], facts).violations == ()


def test_cloth_of_a_change_is_asked_for_by_the_change_alone() -> None:
    swap = duty(
        "S/change-1/lay", kind="change_cover", title="Sheet on", earliest_min=300,
        duration_min=106, people=2, effect="wet",
    )  # fmt: skip
    facts = _facts(
        swap,
        covers=(CoverSupply(kind="burlap_double", stock_m2=200),),
        cover_needs=(_NEED.model_copy(update={"laid_by": "S/change-1/lay"}),),
    )
    assert _judged([_row("lay", 100, 206)], facts).violations == ()
    both = [_row("lay", 100, 206), _row("change", 300, 406)]
    (words,) = _judged(both, facts).violations
    assert "without soaking: red (2) change" in words


def test_looks_are_done_by_a_wetting_in_time_too() -> None:
    look = duty("S/look", kind="inspect", earliest_min=0, latest_min=100)
    lies = surface(area_m2=200, tasks=(look,), rewet=rewet("S"))
    facts = site_facts(work_list(lies, minutes=300, shifts=_gang()))
    row = _row("rewet", 0, 16, people=1, litres_l=200)
    assert _judged([row], facts).looks == (1, 1)
    assert _judged([], facts).looks == (0, 1)


def test_hours_are_at_work_walking_or_standing_by() -> None:
    # Two of four for 106 min, three minutes' walk each; four are paid for 600.
    found = _judged([_row("lay", 100, 206)])
    assert found.work_h == pytest.approx(2 * 106 / 60)
    assert found.walk_h == pytest.approx(2 * 3 / 60)
    assert found.standing_by_h == pytest.approx((4 * 600 - 2 * 109) / 60)


def test_a_roster_is_rows_of_its_visits() -> None:
    lay, look = rows_of(week())
    assert (lay.action, lay.people, lay.start_min, lay.end_min) == ("lay", 4, 420, 480)
    assert (look.action, look.people, look.share) == ("look", 1, 1)


def test_a_plan_is_read_by_the_clock_on_the_wall(tmp_path: Path) -> None:
    plan = tmp_path / "plan.csv"
    plan.write_text(
        "crew,people,start,end,surface,action,share,water,litres,task,who\n"
        "red,2,2027-05-03 07:40,2027-05-03 09:26,S,lay,0.5,,,,0+2\n"
    )
    (row,) = read_rows(plan, _facts().clock)
    # The week begins at 06:00 UTC, which the wall of this site shows.
    assert (row.start_min, row.end_min, row.share) == (100, 206, 0.5)
    assert row.who == (0, 2)


def test_water_that_takes_longer_than_hands_sets_the_time() -> None:
    slow = _lay(water=WaterNeed(litres_l=2000, from_min=6, until_min=106))
    slab = surface(tasks=(slow,), covered_from_min=None, area_m2=200)
    facts = site_facts(work_list(slab, shifts=_gang()))
    # 2,000 L through two hoses of 20 L/min take 50 min; the hands 100.
    quick = _row("lay", 100, 190, point="tap", litres_l=2000)
    assert "90 of 106 min" in _judged([quick], facts).violations[0]
