"""Insulation that comes off while the concrete is warm.

The builders' air is at 20 °C all week.
"""

from dataclasses import replace
from datetime import timedelta

import numpy as np

from models.drying.covers import cover_properties
from models.local_clock import WeekClock
from models.records import (
    CoverKind,
    CoverStage,
    Finding,
    Horizon,
    Link,
    Profile,
    SectionRow,
    SiteInput,
    Surface,
    Task,
)
from scheduler.audit.checks.removal_temperature import check_removal_temperature
from scheduler.audit.replay import temperature_findings
from tests.builders import MONDAY, pour, profile, site_input, surface
from tests.scheduler.audit.audit_builders import (
    HORIZON,
    audited,
    grid,
    hydration,
    lay,
    site_with,
    surroundings,
    task,
    visit,
    work,
)


def blanketed(*later: CoverStage) -> Surface:
    cover = cover_properties("insulated_blankets")
    return surface(method="insulated_blankets", cover=cover, later=later)


def lift(name: str = "lift") -> Task:
    after = (Link(task_id="P1-top/lay"),)
    return task(name, kind="remove_cover", duration_min=30, after=after)


def found(face_c: float, of: Surface | None = None, units: str = "si",
          given: SiteInput | None = None) -> list[str]:  # fmt: skip
    works = [work(tasks=(lay(), lift()), curve=None, rewet=None)]
    report = audited(
        [visit("lay", 300, 60), visit("lift", 570, 30)], works,
        [of or blanketed()], site_with(units=units), given,
        face_c=face_c, core_c=face_c,
    )  # fmt: skip
    return [f.words for f in report.findings if f.kind == "temperature"]


# Concrete Construction, a question on cold-weather protection (read in an excerpt):
# all off only once the face is within 20 °F, 11 K, of the air.
def test_a_face_far_above_the_air_is_named() -> None:
    assert found(32) == [
        "P1 top: insulation comes off Mon 15:30 with its face 12 K above the air; at "
        "most 11 K"
    ]
    assert found(32, units="us") == [
        "P1 top: insulation comes off Mon 15:30 with its face 22 °F above the air; at "
        "most 20 °F"
    ]


def test_what_comes_off_too_early_carries_its_figures() -> None:
    works = [work(tasks=(lay(), lift()), curve=None, rewet=None)]
    visits = [visit("lay", 300, 60), visit("lift", 570, 30)]
    report = audited(visits, works, [blanketed()], face_c=32, core_c=32)
    (breach,) = (f.breach for f in report.findings if f.kind == "temperature")
    assert breach is not None
    # The air of the fixture stands at 20 °C.
    assert (breach.kind, breach.value, breach.limit) == ("above_air", 12, 11)
    assert breach.worst_at == HORIZON.at(570)


def test_a_face_near_the_air_is_no_finding() -> None:
    assert found(31) == []


def test_burlap_keeps_nothing_warm() -> None:
    assert found(45, surface()) == []


def limited(**limits: object) -> SiteInput:
    rule = Profile.model_validate(profile().model_dump() | limits)
    return site_input().model_copy(update={"profiles": {"seven_days": rule}})


def by_day(most_k: float) -> dict[str, object]:
    thick = SectionRow(cooling_max_k=2)
    rows = (SectionRow(up_to_mm=300, cooling_max_k=most_k, clause="by the day"), thick)
    return {"sections": [row.model_dump() for row in rows]}


def lifted(given: SiteInput, of: Surface | None = None, *at_min: int) -> list[Finding]:
    """Covers laid and lifted on concrete that the audit marches in air of 20 °C."""
    tasks = (lay(), *(lift(f"lift-{at}") for at in at_min or (1560,)))
    visits = [visit(f"lift-{at}", at, 30) for at in at_min or (1560,)]
    works = [work(tasks=tasks, curve=None, rewet=None)]
    tops = [of or warm()]
    report = audited([visit("lay", 300, 60), *visits], works, tops, given=given)
    return [f for f in report.findings if f.kind == "temperature"]


def warm(thickness_mm: float = 200) -> Surface:
    """A slab placed at 34 °C, under blankets."""
    cover = cover_properties("insulated_blankets")
    of = pour(thickness_mm=thickness_mm, placing_temperature_c=34)
    return surface(of, method="insulated_blankets", cover=cover)


def test_what_the_roster_lifts_is_marched_from_its_own_minute_on() -> None:
    """Marched by the clock: 34 °C and more in air of 20 °C, a breeze, a grey sky."""
    (hourly,) = lifted(limited(cooling_hour_max_k=2.8))
    assert hourly.breach is not None
    assert (hourly.breach.kind, hourly.breach.within_h) == ("cooling", 1)
    # A half space in a film of some 20 W/(m² K) loses 0.42 of the difference in an
    # hour (see the test of lifted.py); what cooled it before makes it less.
    assert 2.8 < (hourly.breach.value or 0) < 0.42 * (50 - 20)
    assert hourly.starts_at == HORIZON.at(1560)
    assert hourly.ends_at == HORIZON.at(1620)
    assert hourly.words.startswith(
        "P1 top: with the blankets off Tue 08:00 its face cools by "
    )
    assert hourly.words.endswith(" in an hour; at most 2.8 K (Seven days)")


def test_the_day_after_lifting_is_held_against_the_section() -> None:
    (daily,) = lifted(limited(**by_day(8)))
    assert daily.breach is not None
    assert (daily.breach.within_h, daily.breach.limit) == (24, 8)
    assert daily.breach.clause == "by the day"
    assert lifted(limited(**by_day(60))) == []


def test_a_core_too_warm_for_the_bare_face_is_named_in_thick_members() -> None:
    given = limited(core_surface_max_k=5, core_surface_from_mm=500)
    words = [f.words for f in lifted(given, warm(1000))]
    assert any("with the blankets off Tue 08:00 its core is" in w for w in words)
    assert not any("its core is" in f.words for f in lifted(given, warm(499)))


def test_a_cover_lifted_in_parts_is_told_once() -> None:
    found = lifted(limited(cooling_hour_max_k=2.8), None, 1560, 1590)
    assert [f.starts_at for f in found] == [HORIZON.at(1560)]


def struck_after_h(hours: float) -> Surface:
    at = MONDAY + timedelta(hours=hours)
    return surface(face="formed", vertical=True, exposed_at=at)


def test_a_face_that_cools_too_far_after_its_forms_come_off_is_named() -> None:
    """From 25 °C it falls by 0.5 K an hour from two hours after striking on."""
    face, on = struck_after_h(9), grid(HORIZON, 0)
    history = hydration(on, [face])
    after_h = np.arange(on.steps) * on.step_min / 60 - 11
    falling = replace(
        history,
        surface_temperature_c=25 - 0.5 * np.clip(after_h, 0, None)[:, None],
    )
    clock = WeekClock("Europe/Berlin", HORIZON)

    def words(most_k: float) -> list[str]:
        row = SectionRow(up_to_mm=300, cooling_max_k=most_k).model_dump()
        rule = Profile.model_validate(profile().model_dump() | {"sections": [row]})
        given = site_input().model_copy(update={"profiles": {"seven_days": rule}})
        air = surroundings(on)
        found = check_removal_temperature(given, [face], air, falling, [], clock)
        return [f.words for f in found]

    # 24 h after striking it has cooled for 22 h: 11 K.
    assert words(11) == []
    assert words(10.9) == [
        "P1 top: with the forms off Mon 15:00 its face cools by 11.0 K in the next "
        "24 h; at most 10.9 K (Seven days)"
    ]


def test_a_planned_change_to_a_thin_cover_takes_it_off_too() -> None:
    def then(kind: CoverKind) -> CoverStage:
        return CoverStage(
            method="plastic_sheet",
            cover=cover_properties(kind),
            starts_at=MONDAY + timedelta(minutes=480),
            reason="for the test",
        )

    (words,) = found(32, blanketed(then("plastic_sheet")))
    assert words.startswith("P1 top: insulation comes off Mon 14:00 with its face 12 K")
    assert len(found(32, blanketed(then("insulated_blankets")))) == 1  # the lifting


def test_what_begins_after_the_week_is_not_told() -> None:
    """Blankets of 32 °C give way to a sheet in air of 20 °C, the clocks run on."""
    on = grid(Horizon(starts_at=MONDAY, ends_at=HORIZON.ends_at + timedelta(days=1)))

    def told(minutes_before_the_end: int) -> int:
        stage = CoverStage(
            method="plastic_sheet",
            cover=cover_properties("plastic_sheet"),
            starts_at=HORIZON.ends_at - timedelta(minutes=minutes_before_the_end),
            reason="for the test",
        )
        top = blanketed(stage)
        found = temperature_findings(
            site_input(), [top], [work()], surroundings(on),
            hydration(on, [top], 32, 32), WeekClock("Europe/Berlin", HORIZON),
        )  # fmt: skip
        return len(found)

    assert told(10) == 1
    assert told(0) == 0
