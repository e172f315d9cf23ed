"""Visits in words."""

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from exports.entries import entries
from exports.entry import Entry
from exports.text import visible_signs
from models.records import TASK_KINDS, Material, Phase, Roster, TracePoint, Zone
from tests.builders import MONDAY
from tests.exports.exports_builders import (
    HORIZON_MIN,
    small_report,
    small_roster,
    small_site,
)


def by_id(starts_at: datetime = MONDAY, **site_fields: object) -> dict[str, Entry]:
    found = entries(
        small_site(**site_fields), small_roster(starts_at), small_report(starts_at)
    )
    return {entry.visit_id: entry for entry in found}


def relabelled(label: str) -> Roster:
    roster = small_roster()
    slab = roster.surfaces[0].model_copy(update={"label": label})
    return roster.model_copy(update={"surfaces": (slab, *roster.surfaces[1:])})


def test_a_night_rewet_says_all() -> None:
    entry = by_id()["P1-top/rewet/1"]
    assert entry.title == "RE-WET B2 quay slab 300 m²"
    assert entry.place == "Quay slab · level 1 · grid A-C · Tap at gate"
    # full at 14:00; 0.8 L/m² at 0.05 L/(m² h) last 16 h; at 23:50 there is left
    # 0.8 − 0.05 × 9 h 50 min = 0.308 L/m², 39 %
    assert entry.dry_by_at == datetime(2027, 5, 4, 4, 0, tzinfo=UTC)
    assert entry.state_words == "39 % left"
    assert entry.reserve_words == "39 %; dry at Tue 4 May 06:00 CEST unless re-wetted"
    # the shift ends at 06:00 CEST too; 30 min of work
    assert entry.start_by_at == datetime(2027, 5, 4, 3, 30, tzinfo=UTC)
    assert (entry.people, entry.minutes, entry.litres_l) == (2, 30, 180)
    assert entry.water_words == "180 L from Tap at gate, 6 L/min"
    assert entry.crew_name == "Night pair"


def test_words_in_us_units() -> None:
    entry = by_id(units="us")["P1-top/rewet/1"]
    assert entry.title == "RE-WET B2 quay slab 3,229 ft²"  # 300 m² × 10.7639
    # 180 L / 3.78541 = 47.55; 6 L/min / 3.78541 = 1.585
    assert entry.water_words == "48 US gal from Tap at gate, 1.6 US gpm"


def with_rewet(**fields: object) -> Roster:
    roster = small_roster()
    slab = roster.surfaces[0]
    assert slab.rewet is not None
    rewet = slab.rewet.model_copy(update=fields)
    slab = slab.model_copy(update={"rewet": rewet})
    return roster.model_copy(update={"surfaces": (slab, *roster.surfaces[1:])})


def rewet_of(roster: Roster) -> Entry:
    found = entries(small_site(), roster, small_report())
    return next(entry for entry in found if entry.visit_id == "P1-top/rewet/1")


def test_parts_of_one_job_do_not_look_the_same() -> None:
    entry = rewet_of(with_rewet(title="Wet the burlap", part=2, parts=3))
    assert entry.title == "RE-WET 2/3 B2 quay slab 300 m²"


def test_a_trickle_is_not_no_water() -> None:
    # 12 L in 30 min are 0.4 L/min, which rounds to nothing
    task = small_roster().surfaces[0].rewet
    assert task is not None
    assert task.water is not None
    need = task.water.model_copy(update={"litres_l": 12.0, "flow_l_min": 0.4})
    entry = rewet_of(with_rewet(water=need))
    assert entry.water_words == "12 L from Tap at gate, a trickle"
    assert entry.draw_words == "12 L, a trickle"


def test_entries_come_in_the_rosters_order() -> None:
    assert list(by_id()) == [visit.id for visit in small_roster().visits]


def test_start_by_is_the_due_time_less_the_work() -> None:
    # soak: due 300 min after 06:00, takes 30 min
    start_by_at = by_id()["P1-top/soak"].start_by_at
    assert start_by_at == MONDAY + timedelta(hours=4, minutes=30)


def test_start_by_keeps_the_hand_over() -> None:
    # due 15:20 less 30 min is 14:50; mixed at 14:35, usable for 30 min: 15:05 is later
    start_by_at = by_id()["P3-wall/spray"].start_by_at
    assert start_by_at == MONDAY + timedelta(hours=8, minutes=50)
    roster = small_roster()
    wall = roster.surfaces[2]
    spray = wall.tasks[1]
    hurried = spray.model_copy(
        update={"after": (spray.after[0].model_copy(update={"max_gap_min": 10}),)}
    )
    tasks = (wall.tasks[0], hurried, wall.tasks[2])
    surfaces = (*roster.surfaces[:2], wall.model_copy(update={"tasks": tasks}))
    changed = roster.model_copy(update={"surfaces": surfaces})
    found = {e.visit_id: e for e in entries(small_site(), changed, small_report())}
    hurried_at = found["P3-wall/spray"].start_by_at
    assert hurried_at == MONDAY + timedelta(hours=8, minutes=45)


def test_a_planned_late_start_is_called_so() -> None:
    entry = by_id()["P2-top/inspect/1"]  # due 08:40, 10 min, planned 08:32
    assert entry.late
    assert entry.start_by_at == MONDAY + timedelta(days=1, hours=2, minutes=30)


def planned(start_min: int, due_min: int) -> Entry:
    """The night pair's wetting of 30 min, on shift from minute 960 to 1440."""
    roster = with_rewet(due_min=due_min)
    at = roster.horizon.at
    times = {"starts_at": at(start_min), "ends_at": at(start_min + 30)}
    visits = tuple(
        visit.model_copy(update=times) if visit.id == "P1-top/rewet/1" else visit
        for visit in roster.visits
    )
    return rewet_of(roster.model_copy(update={"visits": visits}))


@pytest.mark.parametrize(
    ("start_min", "due_min", "start_by_min", "late"),
    [
        (1070, 1300, 1270, False),  # 1300 − 30
        (1070, 1470, 1410, False),  # 1470 − 30 is 1440; they go home then: 1440 − 30
        (1425, 1900, 1425, False),  # into overtime, as planned and not later
        (1070, 1000, 970, True),  # 1000 − 30, as they have begun
        (1070, 900, 960, True),  # 870 is before they come: at once
    ],
)
def test_start_by_lies_in_the_shift_that_keeps_it(
    start_min: int, due_min: int, start_by_min: int, late: bool
) -> None:
    entry = planned(start_min, due_min)
    assert entry.start_by_at == MONDAY + timedelta(minutes=start_by_min)
    assert entry.late is late


def test_start_by_of_what_lies_in_no_shift_is_left_alone() -> None:
    # it happened when its crew could not have come: due 870, whatever any shift says
    report = small_report().model_copy(update={"shifts": ()})
    found = entries(small_site(), with_rewet(due_min=900), report)
    entry = next(entry for entry in found if entry.visit_id == "P1-top/rewet/1")
    assert entry.start_by_at == MONDAY + timedelta(minutes=870)


def test_a_dry_cover_is_called_dry() -> None:
    entry = by_id()["P2-top/rewet/2"]
    assert (entry.state_words, entry.reserve_words) == ("cover is dry", "")
    assert entry.dry_by_at == entry.starts_at


@pytest.mark.parametrize(
    ("visit_id", "words"),
    [
        ("P1-top/soak", "not exposed yet"),
        ("P1-top/fog", "bare and drying"),
        ("P3-wall/mix", "starts drying 14:30 CEST"),
        ("P3-wall/check", "sealed; needs no water"),
    ],
)
def test_state_before_and_beside_a_cover(visit_id: str, words: str) -> None:
    entry = by_id()[visit_id]
    assert (entry.state_words, entry.reserve_words) == (words, "")
    assert entry.dry_by_at is None


def test_a_cover_that_lasts_says_so() -> None:
    entry = by_id()["P1-top/inspect/1"]
    assert entry.state_words == "99 % left"
    assert entry.reserve_words == (
        "99 %; lasts to the end of curing or of the forecast"
    )
    assert entry.dry_by_at is None


def test_state_within_limits_and_after_curing() -> None:
    report, roster = small_report(), small_roster()
    slab = report.surfaces[0]
    over = Phase(kind="done", starts_at=MONDAY, ends_at=MONDAY + timedelta(days=2))
    done = report.model_copy(
        update={
            "surfaces": (
                slab.model_copy(update={"phases": (over,)}),
                *report.surfaces[1:],
            )
        }
    )
    assert entries(small_site(), roster, done)[0].state_words == "curing time over"
    wall = roster.surfaces[2].model_copy(update={"fresh": ()})
    calm = roster.model_copy(update={"surfaces": (*roster.surfaces[:2], wall)})
    found = {e.visit_id: e for e in entries(small_site(), calm, small_report())}
    assert found["P3-wall/mix"].state_words == "bare; no cover needed yet"


@pytest.mark.parametrize(
    ("kind", "words"),
    [
        ("automatic", "wetted by a timer"),
        ("sealed", "sealed; needs no water"),
        ("insulated", "under blankets; needs no water"),
    ],
)
def test_where_no_visit_has_to_wet(kind: str, words: str) -> None:
    entry = after_a_change(kind)
    assert (entry.state_words, entry.dry_by_at) == (words, None)


@pytest.mark.parametrize("kind", ["ponded", "steamed", "covered"])
def test_what_is_left_is_a_share_of_the_cover_in_place(kind: str) -> None:
    # Half of 25 L/m² is half of the curve's 0.8, which loses 0.1 an hour: four hours
    # from minute 330, where the visit begins.
    entry = after_a_change(kind)
    assert entry.state_words == "50 % left"
    assert entry.dry_by_at == MONDAY + timedelta(minutes=330 + 240)


def test_a_change_of_cover_promises_no_hour() -> None:
    """The cover before has 0.6 − 0.1 × 5.5 h of 0.8 left; the curve is of the next."""
    roster = small_roster()
    slab, pit, wall = roster.surfaces
    assert pit.rewet is not None
    filled = pit.rewet.model_copy(update={"kind": "fill_pond"})
    pit = pit.model_copy(update={"rewet": filled})
    roster = roster.model_copy(update={"surfaces": (slab, pit, wall)})
    found = {e.visit_id: e for e in entries(small_site(), roster, small_report())}
    entry = found["P2-top/rewet/1"]
    assert (entry.state_words, entry.reserve_words) == ("6 % left", "")
    assert entry.dry_by_at is None


def after_a_change(kind: str) -> Entry:
    """The first visit to the pit, whose pond is half full all day."""
    report = small_report()
    ends_at = MONDAY + timedelta(minutes=HORIZON_MIN)
    points = tuple(
        TracePoint(at=at, reserve_l_m2=12.5, held_l_m2=25) for at in (MONDAY, ends_at)
    )
    phase = Phase.model_validate(
        {"kind": kind, "starts_at": MONDAY, "ends_at": ends_at}
    )
    slab, pit, wall = report.surfaces
    pit = pit.model_copy(update={"points": points, "phases": (phase,)})
    changed = report.model_copy(update={"surfaces": (slab, pit, wall)})
    found = {e.visit_id: e for e in entries(small_site(), small_roster(), changed)}
    return found["P2-top/rewet/1"]


def test_minutes_are_counted_through_a_change_of_the_clock() -> None:
    # 02:50 CEST to 02:20 CET on 31 October: 1070 minutes after this start
    starts_at = datetime(2027, 10, 31, 0, 50, tzinfo=UTC) - timedelta(minutes=1070)
    entry = by_id(starts_at)["P1-top/rewet/1"]
    assert entry.minutes == 30
    # full eight hours after minute 0 at 15:00 UTC; sixteen hours on it is 07:00 UTC
    assert entry.dry_by_at == datetime(2027, 10, 31, 7, tzinfo=UTC)
    # the shift ends 1440 − 1070 = 370 min after 00:50 UTC, at 07:00; 30 min of work
    assert entry.start_by_at == datetime(2027, 10, 31, 6, 30, tzinfo=UTC)


def test_alarms_come_earlier_at_night() -> None:
    found = by_id()
    assert found["P1-top/rewet/1"].alarms_min == (30, 0)  # 23:50
    assert found["P1-top/rewet/2"].alarms_min == (20, 0)  # 07:40
    assert found["P1-top/soak"].alarms_min == (60,)  # 07:30


def test_materials_with_their_amounts_and_water_only_once() -> None:
    roster = small_roster()
    slab = roster.surfaces[0]
    assert slab.rewet
    brought = (
        Material(name="water", volume_l=180), Material(name="twine"),
        Material(name="burlap", area_m2=10), Material(name="white", volume_l=4),
        Material(name="sand", length_m=40),
    )  # fmt: skip
    rewet = slab.rewet.model_copy(update={"materials": brought})
    surfaces = (slab.model_copy(update={"rewet": rewet}), *roster.surfaces[1:])
    changed = roster.model_copy(update={"surfaces": surfaces})
    found = {e.visit_id: e for e in entries(small_site(), changed, small_report())}
    assert found["P1-top/rewet/1"].materials == (
        "twine",
        "burlap (10 m²)",
        "white (4.0 L)",
        "sand (40 m)",
    )


def test_a_zone_without_level_and_grid() -> None:
    bare = Zone(id="A", name="Quay", x_m=0, y_m=0, water_points=("tap",))
    zones = (bare, small_site().zones[1])
    assert by_id(zones=zones)["P1-top/soak"].place == "Quay"


@settings(deadline=None, max_examples=50)
@given(st.text(min_size=1, max_size=80))
def test_titles_fit_a_phone_and_keep_verb_and_amount(label: str) -> None:
    for entry in entries(small_site(), relabelled(label), small_report()):
        assert len(visible_signs(entry.title)) <= 40
        assert entry.title.startswith(TASK_KINDS[entry.kind].verb + " ")
        assert entry.title.endswith(" m²")
        assert "\n" not in entry.title


def test_a_long_name_is_cut_before_what_tells_top_from_faces() -> None:
    label = "L4 Lock chamber by the weir, faces"
    report = small_report()
    slab = report.surfaces[0].model_copy(update={"part": "faces"})
    report = report.model_copy(update={"surfaces": (slab, *report.surfaces[1:])})
    titles = {e.title for e in entries(small_site(), relabelled(label), report)}
    # 40 signs less "RE-WET ", " 300 m²" and ", faces" leave 19 and the ellipsis's.
    assert "RE-WET L4 Lock chamber by…, faces 300 m²" in titles


def test_entries_do_not_say_that_concrete_is_safe() -> None:
    for entry in by_id().values():
        assert "safe" not in entry.model_dump_json()
