"""Cold water, cold concrete, a core much warmer than the face."""

from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from models.local_clock import WeekClock
from models.profiles.loader import builtin_profile, profile_ids
from models.records import (
    AuditReport,
    Breach,
    EventWindow,
    Profile,
    SectionRow,
    SiteInput,
    SteamCycle,
    Surface,
    WaterNeed,
)
from scheduler.audit.checks.temperature import check_temperature
from tests.builders import profile, site, site_input, surface
from tests.scheduler.audit.audit_builders import (
    HORIZON,
    audited,
    grid,
    hydration,
    lay,
    site_with,
    task,
    visit,
    work,
)

LAID = visit("lay", 300, 60)


def words(report: AuditReport, kind: str) -> list[str]:
    return [finding.words for finding in report.findings if finding.kind == kind]


def under(**limits: object) -> SiteInput:
    rule = Profile.model_validate(profile().model_dump() | limits)
    return site_input().model_copy(update={"profiles": {"seven_days": rule}})


def wetted_with(water_c: float, litres_l: float = 1500, **limits: object) -> list[str]:
    """Laid with water for 300 m², 5 L/m² unless said otherwise."""
    tap = site().water_points[0].model_copy(update={"temperature_c": water_c})
    where = site_with(water_points=(tap, site().water_points[1]))
    water = WaterNeed(litres_l=litres_l, until_min=60)
    own = [work(tasks=(lay(water=water),))]
    report = audited([LAID], own, given=under(**limits), where=where)
    return words(report, "cold_water")


# UFGS-03311, read: curing water not more than 11 K (20 °F) cooler than the concrete.
def test_water_colder_than_the_rule_allows_is_named() -> None:
    assert wetted_with(13, water_colder_max_k=11) == [
        "P1 top (cover) Mon 11:00: water of Tap at gate is at 13 °C, the concrete "
        "at 25 °C; at most 11 K colder (Seven days)"
    ]


def test_water_as_cold_as_allowed_is_no_finding() -> None:
    assert wetted_with(14, water_colder_max_k=11) == []


def test_a_litre_of_cold_water_a_square_metre_is_no_finding() -> None:
    assert wetted_with(2, litres_l=1499, water_colder_max_k=11) == []
    assert len(wetted_with(2, water_colder_max_k=11)) == 1


def test_a_job_in_parts_counts_whole_and_visits_of_a_kind_each_by_itself() -> None:
    """Two of 800 L on 300 m²: 5.3 L/m² as one job, 2.7 as two."""
    tap = site().water_points[0].model_copy(update={"temperature_c": 2})
    where = site_with(water_points=(tap, site().water_points[1]))

    def found(parts: int) -> list[str]:
        water = WaterNeed(litres_l=800, until_min=60)
        tasks = tuple(
            task(f"rewet-{n}", kind="fog", duration_min=60, water=water, part=n,
                 parts=parts)
            for n in (1, 2)
        )  # fmt: skip
        visits = [
            visit(f"rewet-{n}", at, 60).model_copy(update={"water_point_id": "tap"})
            for n, at in ((1, 100), (2, 200))
        ]
        report = audited(
            visits, [work(tasks=tasks)], given=under(water_colder_max_k=11), where=where
        )
        return words(report, "cold_water")

    assert found(parts=1) == []
    assert len(found(parts=2)) == 2


def test_without_a_rule_no_water_is_too_cold() -> None:
    assert wetted_with(2) == []


def test_a_core_too_warm_is_named_with_both_figures() -> None:
    report = audited(
        [LAID], [work(ends_min=1000)], given=under(core_surface_max_k=20), core_c=46
    )
    assert words(report, "temperature") == [
        "P1 top is 21 K warmer inside than at its face Mon 06:00; at most 20 K (Seven "
        "days)"
    ]
    found = next(f for f in report.findings if f.kind == "temperature")
    assert found.minutes == 1000
    assert found.breach == Breach(
        kind="core_to_face", value_k=21, limit_k=20, clause="Seven days",
        worst_at=HORIZON.at(0),
    )  # fmt: skip


def test_cold_concrete_is_held_against_the_limit_of_its_thickness() -> None:
    thin = SectionRow(up_to_mm=150, minimum_c=13)
    thick = SectionRow(up_to_mm=300, minimum_c=10)
    rule = under(sections=(thin.model_dump(), thick.model_dump()))
    assert words(audited([LAID], given=rule, face_c=12, core_c=12), "temperature") == []
    assert words(audited([LAID], given=rule, face_c=9, core_c=9), "temperature") == [
        "P1 top is at 9 °C Mon 06:00; at least 10 °C (Seven days)"
    ]


# EN 13670:2009, 8.5, from memory: 0 °C or more at the surface until it has 5 MPa.
def test_concrete_too_weak_for_frost_that_freezes_is_named() -> None:
    rule = under(freezing_strength_mpa=5)
    frozen = words(audited([LAID], given=rule, face_c=-1, core_c=-1), "temperature")
    assert frozen == [
        "P1 top is at -1 °C Mon 06:00 and weaker than 5.0 MPa as modelled; it must not "
        "freeze before that (Seven days)"
    ]
    assert words(audited([LAID], given=rule, face_c=0, core_c=0), "temperature") == []


def test_frost_carries_the_strength_until_which_it_counts() -> None:
    report = audited([LAID], given=under(freezing_strength_mpa=5), face_c=-1, core_c=-1)
    (found,) = (f for f in report.findings if f.kind == "temperature")
    assert found.breach == Breach(
        kind="frost", value_c=-1, limit_c=0, clause="Seven days", strength_mpa=5,
        worst_at=HORIZON.at(0),
    )  # fmt: skip


def test_frost_counts_until_the_strength_is_there() -> None:
    """C30: 5 MPa are a sixth of it; here 0.16 until step 42, 0.17 from there on."""
    tops, on = (surface(),), grid(HORIZON, 0)
    cold = hydration(on, tops, -1, -1)
    share = np.full((on.steps, 1), 0.17)
    share[:42] = 0.16
    (found,) = check_temperature(
        under(freezing_strength_mpa=5),
        tops,
        [work()],
        replace(cold, strength_fraction=share),
        np.full((on.steps, 1), -5.0),
        [],
        WeekClock("Europe/Berlin", HORIZON),
    )
    assert found.starts_at == HORIZON.at(0)
    assert found.minutes == 42 * on.step_min


# DIN 1045-3 (a cement industry handbook, read): 5 N/mm², or 3 days at 10 °C or more.
def test_days_at_a_temperature_stand_for_the_strength() -> None:
    tops, on = (surface(),), grid(HORIZON, 0)
    weak = np.zeros((on.steps, 1))
    frosty = replace(hydration(on, tops, -1, -1), strength_fraction=weak)
    face_c = frosty.surface_temperature_c.copy()
    day = 24 * 60 // on.step_min
    face_c[day : 2 * day] = 10  # the second day
    rule = under(freezing_strength_mpa=5, frost_days=1, frost_days_at_c=10)
    found = check_temperature(
        rule,
        tops,
        [work()],
        replace(frosty, surface_temperature_c=face_c),
        np.full((on.steps, 1), -5.0),
        [],
        WeekClock("Europe/Berlin", HORIZON),
    )
    assert [f.minutes for f in found] == [24 * 60]  # the first day, not the third
    cooler = np.where(face_c == 10, 9.9, face_c)
    found = check_temperature(
        rule,
        tops,
        [work()],
        replace(frosty, surface_temperature_c=cooler),
        np.full((on.steps, 1), -5.0),
        [],
        WeekClock("Europe/Berlin", HORIZON),
    )
    assert len(found) == 2


def test_cold_weather_limits_hold_in_cold_air_and_for_young_concrete_only() -> None:
    section = SectionRow(up_to_mm=300, minimum_c=10).model_dump()
    # The fixture's air stands at 20 °C, its concrete at 9 °C.
    mild = under(sections=(section,), cold_below_c=20)
    assert words(audited([LAID], given=mild, face_c=9, core_c=9), "temperature") == []
    young = under(sections=(section,), protection_days=0.5)
    report = audited([LAID], given=young, face_c=9, core_c=9)
    spans = [f for f in report.findings if f.kind == "temperature"]
    young_until = surface().placing_ends_at + timedelta(hours=12)
    assert spans
    assert all(found.ends_at <= young_until for found in spans)


def test_a_site_in_us_units_reads_fahrenheit() -> None:
    where = site_with(units="us")
    report = audited([LAID], given=under(core_surface_max_k=20), core_c=50, where=where)
    # 25 K are 45 °F, 20 K are 36 °F.
    assert words(report, "temperature") == [
        "P1 top is 45 °F warmer inside than at its face Mon 06:00; at most 36 °F "
        "(Seven days)"
    ]


def checked(
    given: SiteInput,
    *,
    top: Surface | None = None,
    face_c: float = 20,
    core_c: float = 20,
    strength: float = 1,
    **events: object,
) -> list[str]:
    """Words on one surface of one temperature; its events as the test wants them."""
    tops, on = (top or surface(),), grid(HORIZON, 0)
    history = hydration(on, tops, face_c, core_c)
    found = check_temperature(
        given,
        tops,
        [work()],
        replace(
            history,
            strength_fraction=np.full((on.steps, 1), float(strength)),
            events=(history.events[0].model_copy(update=events),),
        ),
        np.full((on.steps, 1), 20.0),
        [],
        WeekClock("Europe/Berlin", HORIZON),
    )
    return [finding.words for finding in found]


def sets(hours: float, late_h: float = 0) -> EventWindow:
    at = HORIZON.at(0) + timedelta(hours=hours)
    return EventWindow(
        earliest_at=at, expected_at=at, latest_at=at + timedelta(hours=late_h)
    )


def test_no_frost_passes_before_the_latest_final_set() -> None:
    # Strong from the start by its share; it sets after 8 h, at the latest after 10 h.
    (found,) = checked(
        under(freezing_strength_mpa=5), face_c=-1, final_set=sets(8, late_h=2)
    )
    assert found.startswith("P1 top is at -1 °C Mon 06:00 and weaker than 5.0 MPa")
    day = audited_span(under(freezing_strength_mpa=5), sets(8, late_h=2))
    assert day == 10 * 60


def audited_span(given: SiteInput, final_set: EventWindow) -> int:
    """Minutes of the one finding on a strong surface at -1 °C."""
    tops, on = (surface(),), grid(HORIZON, 0)
    history = hydration(on, tops, -1, -1)
    events = history.events[0].model_copy(update={"final_set": final_set})
    strong = np.ones((on.steps, 1))
    (found,) = check_temperature(
        given, tops, [work()],
        replace(history, strength_fraction=strong, events=(events,)),
        strong, [], WeekClock("Europe/Berlin", HORIZON),
    )  # fmt: skip
    return found.minutes


def test_concrete_that_freezes_before_it_sets_is_not_to_be_placed() -> None:
    # Placing ends 11:00; frost at 14:00, set not before 20:00. No rule asks for it.
    frozen = HORIZON.at(8 * 60)
    assert checked(under(), freezes_at=frozen, final_set=sets(14)) == [
        "P1 top freezes Mon 14:00, before it sets Mon 20:00; do not place without "
        "heat: a heated enclosure, a warmer mix, blankets at once, or another day"
    ]


def test_concrete_placed_before_the_week_that_freezes_is_to_be_warmed() -> None:
    early = surface(placing_ends_at=HORIZON.starts_at - timedelta(hours=2))
    (found,) = checked(
        under(), top=early, freezes_at=HORIZON.at(60), final_set=sets(14)
    )
    assert found.endswith("before it sets Mon 20:00; warm it now, and have it examined")


def test_frost_before_set_is_said_once() -> None:
    said = checked(
        under(freezing_strength_mpa=5), face_c=-1, strength=0,
        freezes_at=HORIZON.at(8 * 60), final_set=sets(14, late_h=2),
    )  # fmt: skip
    assert [words.split()[2] for words in said] == ["freezes", "is"]
    assert "Mon 20:00" in said[1]  # the rule's own frost counts from set on


# ACI 301 (an ACI FAQ, read): 160 °F inside; EN 13670, 8.5, from memory: 70 °C.
def test_a_core_hotter_than_it_may_be_is_named_with_the_clause() -> None:
    rule = under(
        core_max_c=70, marks={"core_max_c": {"how": "read", "clause": "ACI 301, 4.8"}}
    )
    assert checked(rule, face_c=60, core_c=72) == [
        "P1 top is at 72 °C inside Mon 06:00; at most 70 °C (ACI 301, 4.8)"
    ]
    assert checked(rule, face_c=60, core_c=70) == []


def test_a_thin_member_has_no_core_to_hold_against_its_face() -> None:
    rule = under(core_surface_max_k=20, core_surface_from_mm=500)
    assert checked(rule, core_c=45) == []  # 200 mm
    raft = surface(thickness_mm=500)
    assert len(checked(rule, top=raft, core_c=45)) == 1


def test_steam_before_the_clock_s_final_set_is_named() -> None:
    at = HORIZON.at(6 * 60)
    cycle = SteamCycle(
        starts_at=at, hold_from_at=at + timedelta(hours=3), hold_c=60,
        hold_until_at=at + timedelta(hours=11), ends_at=at + timedelta(hours=15),
    )  # fmt: skip
    steamed = surface(steam=cycle)
    assert checked(under(), top=steamed, final_set=sets(8)) == [
        "P1 top has steam on Mon 12:00, before it sets Mon 14:00"
    ]
    assert checked(under(), top=steamed, final_set=sets(6)) == []


@pytest.mark.parametrize("name", profile_ids())
def test_every_rule_has_limits_of_frost_heat_and_cooling(name: str) -> None:
    rule = builtin_profile(name)
    fields = (
        "core_max_c", "core_surface_max_k", "freezing_strength_mpa",
        "cooling_hour_max_k",
    )  # fmt: skip
    for field in fields:
        assert getattr(rule, field) is not None, field
        assert rule.said_by(field) != rule.title
    for thickness_mm in (100, 5000):
        section = rule.section(thickness_mm)
        assert section
        assert section.cooling_max_k
