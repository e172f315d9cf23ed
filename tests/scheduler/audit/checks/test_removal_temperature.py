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
    Link,
    Profile,
    SectionRow,
    SiteInput,
    Surface,
    Task,
)
from scheduler.audit.checks.removal_temperature import check_removal_temperature
from tests.builders import MONDAY, profile, site_input, surface
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


def lift() -> Task:
    after = (Link(task_id="P1-top/lay"),)
    return task("lift", kind="remove_cover", duration_min=30, after=after)


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
        "P1 top: insulation comes off Mon 16:00 with its face 12 K above the air; at "
        "most 11 K"
    ]
    assert found(32, units="us") == [
        "P1 top: insulation comes off Mon 16:00 with its face 22 °F above the air; at "
        "most 20 °F"
    ]


def test_what_comes_off_too_early_carries_its_figures() -> None:
    works = [work(tasks=(lay(), lift()), curve=None, rewet=None)]
    visits = [visit("lay", 300, 60), visit("lift", 570, 30)]
    report = audited(visits, works, [blanketed()], face_c=32, core_c=32)
    (breach,) = (f.breach for f in report.findings if f.kind == "temperature")
    assert breach is not None
    # The air of the fixture stands at 20 °C; the lift ends at 570 + 30.
    assert (breach.kind, breach.value, breach.limit) == ("above_air", 12, 11)
    assert breach.worst_at == HORIZON.at(600)


def test_a_face_near_the_air_is_no_finding() -> None:
    assert found(31) == []


def test_burlap_keeps_nothing_warm() -> None:
    assert found(45, surface()) == []


def test_cooling_of_a_day_is_held_against_the_section() -> None:
    rows = (SectionRow(up_to_mm=300, cooling_max_k=8), SectionRow(cooling_max_k=2))
    rule = Profile.model_validate(
        profile().model_dump() | {"sections": [row.model_dump() for row in rows]}
    )
    given = site_input().model_copy(update={"profiles": {"seven_days": rule}})
    # The slab is 200 mm thick: the first row.
    assert found(28, given=given) == []
    assert found(29, given=given) == [
        "P1 top: insulation comes off Mon 16:00 and its face may cool by 9 K in the "
        "next 24 h; Seven days: at most 8 K"
    ]


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
        "P1 top: forms come off Mon 15:00 and its face cools by 11 K in the next 24 h; "
        "Seven days: at most 11 K"
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
