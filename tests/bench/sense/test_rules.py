"""The foreman's rules: a week that breaks none, and for each one that breaks it."""

from collections.abc import Callable

import pytest

from exports.entries import entries
from exports.entry import Entry
from models.records import (
    AuditReport,
    CoverNeed,
    CoverStock,
    Gap,
    Missed,
    Reason,
    Roster,
    Site,
    Stretch,
    Visit,
)
from tests.bench.sense.made_up_weeks import (
    LAID,
    LOOKED,
    OTHER,
    broken,
    lay,
    look,
    other_slab,
    rewet,
    slab,
    verdicts,
    week,
)
from tests.bench.sense.week import Week
from tests.scheduler.audit.audit_builders import LENGTH, at, site_with, task, visit


def test_a_week_that_a_foreman_would_sign_breaks_no_rule() -> None:
    assert broken(week()) == set()


def _looked_before_it_lay() -> Week:
    return week(LAID, visit("look", 300, 10))


def _hold(start: int) -> Week:
    """An hour in water: of 1 m², which is too little for anybody to be sent."""
    kit = ({"name": "burlap, soaked 1 h", "area_m2": 1},)
    hold = task("hold", kind="hold_point", due_min=420, materials=kit, people=4)
    soaks = CoverNeed(
        kind="burlap_double", area_m2=1, laid_by="P1-top/lay", soak_lead_min=60
    )
    bare = (Stretch(from_min=500, until_min=LENGTH),)
    works = (slab(lay(due_min=560), hold, fresh=bare, cover_needs=(soaks,)),)
    return week(visit("hold", start, 10), visit("lay", 500, 60), works=works)


def _hold_sees_the_future() -> Week:
    return _hold(350)  # covers can go into water from 420 - 60 = 360 on


def _hold_before_the_stock() -> Week:
    return _hold(370)  # they leave the stock at 500 - 60 = 440


def _nobody_soaks() -> Week:
    soaks = CoverNeed(
        kind="burlap_double", area_m2=300, laid_by="P1-top/lay", soak_lead_min=60
    )
    return week(works=(slab(cover_needs=(soaks,)),))


def _two_looks() -> Week:
    works = (slab(lay(), look(), look("again")),)
    return week(LAID, visit("again", 530, 10), LOOKED, works=works)


def _look_beside_wetting() -> Week:
    return week(LAID, visit("look", 490, 10))


def _wetted_when_full() -> Week:
    # An hour after the laying 0.7 of 0.8 L/m² are left, 88 %.
    return week(LAID, visit("rewet", 540, 20), LOOKED, works=(slab(rewet=rewet()),))


def _crumb() -> Week:
    few = rewet(water={"litres_l": 5, "until_min": 20})
    return week(LAID, LOOKED, visit("rewet", 640, 20), works=(slab(rewet=few),))


def _idle_beside_dry() -> Week:
    # Dry from 960 to 1100; the red gang is idle from 610 to 660.
    return week(works=(slab(rewet=rewet(), ends_min=1100),))


def _long_look(surface_id: str) -> Visit:
    return visit(
        "long", 963, 132, "owl", id="long", task_id=f"{surface_id}/long",
        surface_id=surface_id,
    )  # fmt: skip


def _looks_come_first() -> Week:
    long = look("long", duration_min=132, due_min=1100, people=2)
    night = rewet(people=2, earliest_min=950)
    works = (slab(lay(), look(), long, rewet=night, ends_min=1100),)
    return week(LAID, LOOKED, _long_look("P1-top"), works=works)


def _lesser_work_comes_first() -> Week:
    long = look("long", OTHER, duration_min=132, due_min=1100, people=2)
    night = rewet(people=2, earliest_min=950)
    works = (slab(rewet=night, ends_min=1100), other_slab(long))
    return week(LAID, LOOKED, _long_look(OTHER), works=works)


def _covers_on_cured(*laid: Visit, lift_from: int = 100) -> Week:
    """What P1 waits for lies on P2, cured at 100, and may be lifted from then on."""
    wants = CoverNeed(kind="burlap_double", area_m2=300, laid_by="P1-top/lay")
    lies = CoverNeed(
        kind="burlap_double", area_m2=300, lies_from_min=-60,
        lifted_by=(f"{OTHER}/lift",),
    )  # fmt: skip
    owned = CoverStock(kind="burlap_double", stock_m2=300)
    seen = visit("look", 600, 10, task_id=f"{OTHER}/look", surface_id=OTHER)
    own = look(surface_id=OTHER, people=4)
    lifts = task(
        "lift", OTHER, kind="remove_cover", earliest_min=lift_from, latest_min=4000,
        duration_min=30, people=4,
    )  # fmt: skip
    others = other_slab(own, lifts, ends_min=100, cover_needs=(lies,))
    works = (slab(cover_needs=(wants,)), others)
    return week(*laid, seen, works=works, where=site_with(covers=(owned,)))


def test_covers_that_must_stay_on_are_wanted_by_nobody() -> None:
    # P1 may take its cover from 420 on and dries until curing is over at 900. Lifted
    # from 600 to 630 the other's is free then.
    assert verdicts(_covers_on_cured())["8"].amount == 900 - 420
    assert verdicts(_covers_on_cured(lift_from=600))["8"].amount == 900 - 630


def test_a_surface_with_its_own_covers_waits_for_no_others() -> None:
    # Laid at 420, whatever the stock bears.
    assert verdicts(_covers_on_cured(LAID))["8"].amount == 0


def _second_coat_late() -> Week:
    coats = [
        task(
            f"coat{n}", kind="spray_compound", title=f"Spray compound, coat {n}",
            people=4, due_min=450, duration_min=30, effect=effect,
        )
        for n, effect in ((1, "protect"), (2, "seal"))
    ]  # fmt: skip
    works = (slab(*coats, fresh=(), curve=None),)
    return week(visit("coat1", 80, 30), visit("coat2", 391, 30), works=works)


def _fog_with_a_hole() -> Week:
    fog = [
        task(
            f"fog{start}", kind="fog", title="Fog", people=4, duration_min=30,
            earliest_min=start, due_min=start + 30, latest_min=start + 30,
            effect="protect",
        )
        for start in (420, 460)
    ]  # fmt: skip
    works = (slab(*fog, lay(earliest_min=490, due_min=550)),)
    spells = (visit("fog420", 420, 30), visit("fog460", 460, 30))
    return week(*spells, visit("lay", 490, 60), works=works)


def _no_rest() -> Week:
    watch = look("watch", duration_min=370, due_min=1400, people=2)
    works = (slab(lay(), look(), watch),)
    return week(LAID, LOOKED, visit("watch", 970, 370, "owl"), works=works)


def _wetted_when_dry() -> Week:
    night = rewet(people=2, earliest_min=970, due_min=1400)
    works = (slab(rewet=night, ends_min=1400),)
    return week(LAID, LOOKED, visit("rewet", 970, 20, "owl"), works=works)


def _late() -> Week:
    return week(works=(slab(lay(), look(due_min=605)),))


def _to_and_fro() -> Week:
    """Nine jobs, in turns in either zone: seven times back, 3.5 ways there and back."""
    names = ["P1-top" if i % 2 == 0 else OTHER for i in range(9)]
    starts = [70 + 30 * i for i in range(9)]
    washes = [
        task(f"wash{s}", name, kind="wash", due_min=s + 20, people=4)
        for s, name in zip(starts, names, strict=True)
    ]
    own = [t for t in washes if t.surface_id == "P1-top"]
    works = (
        slab(*own, fresh=()),
        other_slab(*(t for t in washes if t.surface_id == OTHER)),
    )
    visits = (
        visit("", s, 10, id=t.id, task_id=t.id, surface_id=t.surface_id)
        for s, t in zip(starts, washes, strict=True)
    )
    return week(*visits, works=works)


def _missed_beside_idle() -> Week:
    missed = Missed(
        task_id="P1-top/look", surface_id="P1-top", limit="crews_busy", words="busy"
    )
    return week(LAID, missed=(missed,))


def _told(words: str, **reason: object) -> Week:
    base: dict[str, object] = {
        "starts_at": at(420), "ends_at": at(480), "limit": "covers", "words": words,
    }  # fmt: skip
    told = (Reason.model_validate(base | reason),)
    gap = Gap(
        surface_id="P1-top", starts_at=at(420), ends_at=at(480), covered=False,
        reasons=told,
    )  # fmt: skip
    return week(gaps=(gap,))


def _nobody_is_said_to_be_there() -> Week:
    return _told("no crew is on shift from Mon 13:00", limit="no_crew_on_shift")


def _enough_is_said_to_lack() -> Week:
    return _told("P1 wants 200 m² of burlap Mon 13:00; 240 m² of 900 m² are free")


def _reasons_stop_short() -> Week:
    return _told("the tap gives 5 L/min", ends_at=at(470), limit="water_flow")


def _three_stand_by() -> Week:
    works = (slab(lay(), look(duration_min=150, due_min=660)),)
    return week(LAID, visit("look", 510, 150), works=works)


@pytest.mark.parametrize(
    ("rule", "spoilt"),
    [
        ("1", _looked_before_it_lay),
        ("2a", _hold_sees_the_future),
        ("2b", _nobody_soaks),
        ("2c", _hold_before_the_stock),
        ("3a", _two_looks),
        ("3b", _look_beside_wetting),
        ("4a", _wetted_when_full),
        ("5", _crumb),
        ("8", _covers_on_cured),
        ("9a", _second_coat_late),
        ("9b", _fog_with_a_hole),
        ("10", _no_rest),
        ("11b", _wetted_when_dry),
        ("11c", _late),
        ("12", _to_and_fro),
        ("13b", _missed_beside_idle),
        ("14", _nobody_is_said_to_be_there),
        ("14", _enough_is_said_to_lack),
        ("14", _reasons_stop_short),
        ("standing", _three_stand_by),
    ],
)
def test_a_week_spoilt_in_one_way_breaks_that_rule_alone(
    rule: str, spoilt: Callable[[], Week]
) -> None:
    assert broken(spoilt()) == {rule}
    (case, *_) = verdicts(spoilt())[rule].cases
    assert case.words


def test_a_sheet_that_names_a_start_after_the_shift_is_found(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def careless(site: Site, roster: Roster, report: AuditReport) -> tuple[Entry, ...]:
        laid, looked = entries(site, roster, report)
        # With all of its overtime the gang is gone by 660 + 60.
        return laid, looked.model_copy(update={"start_by_at": at(890)})

    # Due at 900 the look could start at 890: the sheet says 650, the end of the shift.
    late = week(works=(slab(lay(), look(due_min=900)),))
    assert broken(late) == set()
    monkeypatch.setattr("tests.bench.sense.promises.entries", careless)
    assert broken(late) == {"11a"}
    (case,) = verdicts(late)["11a"].cases
    # Minute 0 is Monday 06:00.
    assert case.words.endswith("planned Mon 16:00, start by Mon 20:50")


@pytest.mark.parametrize(
    ("rule", "spoilt"),
    [
        ("6a", _idle_beside_dry),
        ("7a", _looks_come_first),
        ("7b", _lesser_work_comes_first),
    ],
)
def test_dry_time_that_hands_could_save_is_counted_once_and_limited_together(
    rule: str, spoilt: Callable[[], Week]
) -> None:
    assert broken(spoilt()) == {"6+7"}
    found = verdicts(spoilt())
    hands = [one for name, one in found.items() if name[0] in "67" and name != "6+7"]
    assert [one.rule for one in hands if one.cases] == [rule]
    assert found["6+7"].amount == found[rule].amount


def test_a_laying_that_a_break_stops_could_pause_for_it() -> None:
    # Bare from 290 to 500, 120 min of laying: 70 before the break and 110 after it, so
    # it fits nowhere whole.
    long = lay(earliest_min=290, duration_min=120, effect="none")
    bare = (Stretch(from_min=290, until_min=LENGTH),)
    works = (slab(long, look(), fresh=bare, ends_min=500),)
    found = verdicts(week(LOOKED, works=works))
    assert found["6a"].amount == 0
    # Begun at 290 it lies at 290 + 120 + 30 = 440; the 60 min then are saved, 3 each.
    assert found["7e"].amount == pytest.approx(180)


def test_shares_are_of_what_each_rule_is_about() -> None:
    spoilt = verdicts(_idle_beside_dry())
    # 140 dry minutes at 1 each, all of them to be saved; the first half hour of laying,
    # bare at 3 a minute, is not.
    assert spoilt["6a"].amount == pytest.approx(140)
    assert spoilt["6a"].share == pytest.approx(140 / (140 + 30 * 3))
    # Worked: 60 min of laying by all four, 10 min of looking by one of four.
    assert spoilt["standing"].share == pytest.approx(30 / 280)
