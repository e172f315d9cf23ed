"""Insulation that comes off while the concrete is warm.

The builders' air is at 20 °C all week.
"""

from datetime import timedelta

from models.drying.covers import cover_properties
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
from tests.builders import MONDAY, profile, site_input, surface
from tests.scheduler.audit.audit_builders import (
    audited,
    lay,
    site_with,
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
