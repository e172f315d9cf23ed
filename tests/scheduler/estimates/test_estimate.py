"""A surface's own week, worked out by hand."""

import pytest

from models.records import (
    AutomaticFlow,
    CoverNeed,
    CrewShift,
    Link,
    Stretch,
    SurfaceWork,
    WeightStep,
)
from scheduler.estimates.estimate import Estimate, estimate
from tests.builders import work_for_nothing
from tests.scheduler.estimates.advise_builders import (
    LENGTH,
    NIGHTS,
    call,
    curve,
    fog,
    lay,
    rewet,
    shift,
    surface_work,
    task,
    work_list,
)


def run(surface: SurfaceWork, *shifts: CrewShift) -> Estimate:
    return estimate(work_list(surface, shifts or None), surface, NIGHTS)


def starts(found: Estimate, name: str = "rewet") -> list[int]:
    return [s.start_min for s in found.bookings if s.task.id.endswith(f"/{name}")]


def test_each_rewet_is_half_done_when_the_cover_would_be_dry() -> None:
    found = run(surface_work(lay(), rewet=rewet()))
    # Laid 120 to 180, wet until 660. Tuesday's first start is 1505, Wednesday's 2945.
    # Mon: 640 to 660 is the shift's end; wet until 1140, dry 375 min to the middle of
    #      the next, 1515.
    # Tue: 1505 to 1525, wet until 2005; 1995 to 2015, wet until 2495; 2080 to 2100 is
    #      the shift's end and spares 85 min; wet until 2580, dry 375 min to 2955.
    # Wed: the same, 2945, 3435, 3520; wet until 4020, dry 300 min to the end, 4320.
    # Overtime costs 2 a minute and spares dry minutes at 2: no gain, so none.
    assert starts(found) == [640, 1505, 1995, 2080, 2945, 3435, 3520]
    assert found.dry == (
        Stretch(from_min=1140, until_min=1515),
        Stretch(from_min=2580, until_min=2955),
        Stretch(from_min=4020, until_min=4320),
    )
    assert found.dry_min == 375 + 375 + 300
    assert found.cost_by_part == {
        "dry": 2100, "late": 0, "missed": 0, "overtime": 0, "call_out": 0,
        "water": 0, "labour": 0,
    }  # fmt: skip
    # Two people for an hour, seven visits of 20 min by one; 200 L each.
    assert found.crew_min == 120 + 140
    assert found.water_l == 1400
    assert (found.rewets, found.night_rewets) == (7, 0)


def test_water_has_its_price_a_timer_s_too() -> None:
    # One rewet of 200 L, at 640; a timer draws 5 L/min for an hour.
    timer = AutomaticFlow(
        water_point_id="tap", from_min=700, until_min=760, flow_l_min=5
    )
    surface = surface_work(lay(), rewet=rewet(), automatic=(timer,), ends_min=1100)
    priced = work_list(surface).model_copy(
        update={"costs": work_for_nothing(litre_cost=0.01)}
    )
    found = estimate(priced, surface, NIGHTS)
    assert starts(found) == [640]
    assert found.water_l == 500
    assert found.cost_by_part["water"] == 5


def test_overtime_is_worked_where_it_spares_more_than_it_costs() -> None:
    heavy = (WeightStep(from_min=0, per_min=10),)
    found = run(surface_work(lay(), rewet=rewet(), weights=heavy, ends_min=1510))
    # 700 to 720 is the end of overtime: 60 min at 2; wet until 1200 and not 1140.
    assert starts(found) == [640, 700]
    assert found.cost_by_part["overtime"] == 120
    assert found.dry[0] == Stretch(from_min=1200, until_min=1510)


@pytest.mark.parametrize(("per_min", "called"), [(2, True), (1, False)])
def test_a_call_out_is_made_where_it_spares_more_than_it_costs(
    per_min: float, called: bool
) -> None:
    # Without it dry from 1140 to 1505, 365 min; called by 1080, wet until 1580.
    weights = (WeightStep(from_min=0, per_min=per_min),)
    surface = surface_work(lay(), rewet=rewet(), weights=weights, ends_min=1500)
    owl = call(1000, 1100).model_copy(update={"crew_id": "owl"})
    found = run(surface, shift(0), shift(1), owl)
    assert (1080 in starts(found)) == called
    assert found.cost_by_part["call_out"] == (400 if called else 0)


def test_a_call_out_by_the_hour_is_paid_from_the_walk_to_the_last_end() -> None:
    # Called at 1080 for 20 min, a walk of 5 before it; 15 min of it are paid anyway.
    weights = (WeightStep(from_min=0, per_min=3),)
    surface = surface_work(lay(), rewet=rewet(), weights=weights, ends_min=1500)
    hourly = {"crew_id": "owl", "call_out_per_min": 0.5, "call_out_paid_min": 15}
    owl = call(1000, 1100).model_copy(update=hourly)
    found = run(surface, shift(0), shift(1), owl)
    assert 1080 in starts(found)
    assert found.cost_by_part["call_out"] == 400 + 10 * 0.5


def test_a_call_out_that_comes_too_late_to_be_worth_it_is_not_made() -> None:
    # Dry from 1140 to 1500 costs 720; called at 1405 only the last 85 min are spared.
    surface = surface_work(lay(), rewet=rewet(), ends_min=1500)
    owl = call(1400, 1440).model_copy(update={"crew_id": "owl"})
    found = run(surface, shift(0), shift(1), owl)
    assert found.cost_by_part["call_out"] == 0
    assert found.cost == 720


def night_gang() -> CrewShift:
    return shift(
        id="owl/0", crew_id="owl", starts_min=900, ends_min=1440, breaks=(),
        overtime_max_min=0,
    )  # fmt: skip


def test_an_evening_filling_that_lasts_the_night_spares_the_night() -> None:
    # Half the loss, 16 h a filling: wet from 180 until 1140, at night. Filled at 640
    # to 660 instead it lasts until 1620, beyond the first start of the morning, 1505.
    slow = surface_work(lay(), rewet=rewet(), curve=curve(0.05))
    found = run(slow, shift(0), night_gang(), shift(1), shift(2))
    assert starts(found)[0] == 640
    assert found.night_rewets == 0


def test_a_filling_that_does_not_last_the_night_is_renewed_in_it() -> None:
    found = run(
        surface_work(lay(), rewet=rewet(), ends_min=1500),
        shift(0), night_gang(), shift(1),
    )  # fmt: skip
    # Wet from 660 until 1140: then the night gang, 1130 to 1150, until 1630.
    assert starts(found) == [640, 1130]
    assert found.night_rewets == 1
    assert found.dry_min == 0


def test_a_cover_waits_for_the_stint_of_fog_before_it() -> None:
    bare = (Stretch(from_min=120, until_min=LENGTH),)
    found = run(surface_work(fog(120), lay(earliest_min=150), fresh=bare, curve=None))
    # Laid at 150 the stint from 120 to 180 could not be done: bare for these 60 min
    # and not only for the first 30 of laying.
    assert starts(found, "lay") == [180]
    assert starts(found, "fog-120") == [120]
    assert found.dry_min == 30


def test_work_that_can_wait_keeps_out_of_the_way_of_fog() -> None:
    bare = (Stretch(from_min=120, until_min=LENGTH),)
    mix = task("mix", kind="mix_compound", earliest_min=130)
    after = (Link(task_id=mix.id),)
    coat = lay(id="P1-top/coat", earliest_min=180, effect="seal", after=after)
    found = run(surface_work(fog(120), mix, coat, fresh=bare, curve=None))
    assert starts(found, "fog-120") == [120]
    assert starts(found, "mix") == [180]
    # Bare while it is mixed, from 180 to 190, and for the first 30 min of spraying, at
    # 6; sealed to the end afterwards.
    assert found.dry == (Stretch(from_min=180, until_min=220),)
    assert found.cost_by_part["dry"] == 40 * 6


def test_a_soak_goes_into_overtime_rather_than_wait_for_the_morning() -> None:
    laid = lay(earliest_min=600, due_min=660)
    soak = task(
        "soak", kind="soak", duration_min=20, effect="wet", missed_cost=600,
        late_cost_per_min=1, after=(Link(task_id=laid.id, max_gap_min=30),),
    )  # fmt: skip
    found = run(surface_work(laid, soak, curve=None))
    # 20 min of overtime cost 40; at 1505 it would be 815 min late.
    assert starts(found, "soak") == [660]
    assert found.cost_by_part["overtime"] == 40
    assert found.cost_by_part["late"] == 0


def test_lateness_counts_past_due_and_after_a_long_gap() -> None:
    laid = lay(earliest_min=630, due_min=690, late_cost_per_min=1)
    soak = task(
        "soak", kind="soak", effect="wet", late_cost_per_min=2, earliest_min=1500,
        after=(Link(task_id=laid.id, max_gap_min=30),),
    )  # fmt: skip
    found = run(surface_work(laid, soak, curve=None))
    # Laid 630 to 690, half an hour of overtime. Soaked at 1505: 1505 - 690 - 30 = 785.
    assert found.cost_by_part["late"] == 2 * 785
    assert found.cost_by_part["overtime"] == 60


def test_a_duty_nobody_can_do_is_missed_and_so_is_what_follows_it() -> None:
    mix = task("mix", skills=("sprayer",), kind="mix_compound", missed_cost=600)
    coat = task(
        "coat", kind="spray_compound", effect="seal", covers=True, missed_cost=600,
        after=(Link(task_id=mix.id),),
    )  # fmt: skip
    bare = (Stretch(from_min=100, until_min=LENGTH),)
    hands = shift(skills=("labourer",))
    found = run(surface_work(mix, coat, fresh=bare, curve=None), hands)
    assert [t.id for t in found.missed] == ["P1-top/mix", "P1-top/coat"]
    assert found.cost_by_part["missed"] == 1200
    assert found.covered_min is None
    assert found.dry_min == LENGTH - 100


def test_one_call_out_serves_every_visit_of_its_stretch() -> None:
    # Each filling lasts 80 min and spares 160; one alone is not worth the call-out of
    # 400, the four that fit between 1000 and 1400 are.
    surface = surface_work(lay(), rewet=rewet(), curve=curve(0.6), ends_min=1500)
    owl = call(1000, 1400).model_copy(update={"crew_id": "owl"})
    found = run(surface, shift(0), shift(1), owl)
    assert found.cost_by_part["call_out"] == 400
    assert sum(1 for booking in found.bookings if booking.shift.kind == "on_call") >= 4


def test_a_look_is_left_out_where_it_costs_less_than_a_call_out() -> None:
    look = task("look", missed_cost=150)
    found = run(surface_work(look, curve=None), call(100, 200))
    assert found.bookings == ()
    assert found.cost_by_part["missed"] == 150


def test_a_reported_cover_starts_with_what_it_holds() -> None:
    surface = surface_work(
        covered_from_min=-300, reserve_at_start_l_m2=0.05, rewet=rewet(), ends_min=500
    )
    # 0.05 L/m² last 30 min; the first start of the shift is 65: wet from 75 on.
    found = run(surface)
    assert found.dry == (Stretch(from_min=30, until_min=75),)
    assert starts(found) == [65]


def test_dryness_after_the_end_of_curing_is_free() -> None:
    assert run(surface_work(lay(), ends_min=700)).dry_min == 40  # 660 to 700


def test_a_change_of_cover_is_made_at_its_own_time_not_when_nothing_lay_there() -> None:
    bare = (Stretch(from_min=120, until_min=LENGTH),)
    change = task(
        "change", kind="change_cover", duration_min=60, effect="wet", missed_cost=600,
        earliest_min=400, due_min=600, after=(Link(task_id="P1-top/lay"),),
    )  # fmt: skip
    found = run(surface_work(lay(), change, fresh=bare, curve=None))
    assert starts(found, "change") == [400]
    # Bare from 120 until the cover is half laid at 150, at 6; never dry under it.
    assert found.cost_by_part["dry"] == 30 * 6


def test_looks_of_any_kind_wait_for_the_work() -> None:
    level = task("level", kind="check_level", missed_cost=150, latest_min=185)
    found = run(surface_work(level, lay(), curve=None))
    # The cover goes on as soon as it can, from 120 to 180; the look fits before it.
    assert starts(found, "lay") == [120]
    assert starts(found, "level") == [65]


@pytest.mark.parametrize(
    ("from_min", "until_min", "looks", "missed"),
    [
        (600, 700, [], 0),  # the cover is wetted at 640, as above
        (640, 700, [], 0),
        (641, 700, [660], 0),  # wetted before its time: inspected when that is done
        (600, 640, [600], 0),
        (1500, 1520, [], 0),  # wetted at 1505: one person is there, and is enough
        (1100, 1200, [], 150),  # nobody is on shift, and nobody wets it
    ],
)
def test_whoever_wets_a_cover_has_inspected_it(
    from_min: int, until_min: int, looks: list[int], missed: float
) -> None:
    look = task(
        "look", earliest_min=from_min, due_min=until_min, latest_min=until_min,
        missed_cost=150, met_by_wetting=True,
    )  # fmt: skip
    found = run(surface_work(lay(), look, rewet=rewet()))
    assert starts(found)[:2] == [640, 1505]
    assert starts(found, "look") == looks
    assert found.cost_by_part["missed"] == sum(t.missed_cost for t in found.missed)
    assert found.cost_by_part["missed"] == missed


def test_covers_are_put_into_water_as_late_as_is_in_time_for_their_laying() -> None:
    soak = task("soak", kind="soak_ahead", duration_min=20)
    # Laid at 800, after the shift: on Tuesday at 1505; two hours in water before that.
    for until, put_in in ((0, [640]), (1506, [])):
        need = CoverNeed(
            kind="burlap_double", area_m2=100, laid_by=lay().id, soak_lead_min=120,
            soaked_by=soak.id, in_water_until_min=until,
        )  # fmt: skip
        late = lay(earliest_min=800, due_min=1000)
        found = run(surface_work(soak, late, cover_needs=(need,)))
        assert starts(found, "lay") == [1505]
        # The shift ends at 660; overtime would cost more.
        assert starts(found, "soak") == put_in
