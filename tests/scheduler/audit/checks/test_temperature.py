"""Cold water, cold concrete, a core much warmer than the face."""

from dataclasses import replace
from datetime import timedelta

import numpy as np

from models.local_clock import WeekClock
from models.records import AuditReport, Profile, SectionRow, SiteInput, WaterNeed
from scheduler.audit.checks.temperature import check_temperature
from tests.builders import profile, site, site_input, surface
from tests.scheduler.audit.audit_builders import (
    HORIZON,
    audited,
    grid,
    hydration,
    lay,
    site_with,
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
        "P1 top (lay cover) Mon 11:00: water of Tap at gate is at 13 °C, the concrete "
        "at 25 °C; Seven days allows 11 K less"
    ]


def test_water_as_cold_as_allowed_is_no_finding() -> None:
    assert wetted_with(14, water_colder_max_k=11) == []


def test_a_litre_of_cold_water_a_square_metre_is_no_finding() -> None:
    assert wetted_with(2, litres_l=1499, water_colder_max_k=11) == []
    assert len(wetted_with(2, water_colder_max_k=11)) == 1


def test_without_a_rule_no_water_is_too_cold() -> None:
    assert wetted_with(2) == []


def test_a_core_too_warm_is_named_with_both_figures() -> None:
    report = audited(
        [LAID], [work(ends_min=1000)], given=under(core_surface_max_k=20), core_c=46
    )
    assert words(report, "temperature") == [
        "P1 top is 21 K warmer inside than at its face Mon 06:00; Seven days allows "
        "20 K"
    ]
    found = next(f for f in report.findings if f.kind == "temperature")
    assert found.minutes == 1000


def test_cold_concrete_is_held_against_the_limit_of_its_thickness() -> None:
    thin = SectionRow(up_to_mm=150, minimum_c=13)
    thick = SectionRow(up_to_mm=300, minimum_c=10)
    rule = under(sections=(thin.model_dump(), thick.model_dump()))
    assert words(audited([LAID], given=rule, face_c=12, core_c=12), "temperature") == []
    assert words(audited([LAID], given=rule, face_c=9, core_c=9), "temperature") == [
        "P1 top is at 9 °C Mon 06:00; Seven days asks for 10 °C"
    ]


# EN 13670:2009, 8.5, from memory: 0 °C or more at the surface until it has 5 MPa.
def test_concrete_too_weak_for_frost_that_freezes_is_named() -> None:
    rule = under(freezing_strength_mpa=5)
    frozen = words(audited([LAID], given=rule, face_c=-1, core_c=-1), "temperature")
    assert frozen == [
        "P1 top is at -1 °C Mon 06:00, below 5.0 MPa as modelled; Seven days: it must "
        "not freeze before that strength"
    ]
    assert words(audited([LAID], given=rule, face_c=0, core_c=0), "temperature") == []


def test_frost_counts_until_the_strength_is_there() -> None:
    """C30: 5 MPa are a sixth of it; here 0.16 until step 12, 0.17 from there on."""
    tops, on = (surface(),), grid(HORIZON, 0)
    cold = hydration(on, tops, -1, -1)
    share = np.full((on.steps, 1), 0.17)
    share[:12] = 0.16
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
    assert found.minutes == 12 * on.step_min


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
        "P1 top is 45 °F warmer inside than at its face Mon 06:00; Seven days allows "
        "36 °F"
    ]
