"""What is said of covers in water to who checks before placing, and to who lays."""

import pytest

from exports.cloth import ClothWords
from models.local_clock import LocalClock
from models.records import CoverNeed, Material, SurfaceWork, Visit
from tests.exports.exports_builders import small_roster, task

NEED = CoverNeed(
    kind="sheet_over_burlap", area_m2=200, laid_by="P1-top/lay", soak_lead_min=720,
    soaked_by="P1-top/soak-ahead", checked_by="P1-top/hold", in_water_until_min=800,
)  # fmt: skip


def said(**starts: int) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """What the check says and what the laying does; half an hour each."""
    roster = small_roster()
    soaks = task(
        "P1-top/soak-ahead", "soak_ahead", 100, 30,
        materials=(Material(name="burlap", area_m2=200),),
    )  # fmt: skip
    work: SurfaceWork = roster.surfaces[0].model_copy(
        update={"cover_needs": (NEED,), "tasks": (soaks,)}
    )
    visits = {
        name: Visit(
            id=f"P1-top/{name}", task_id=f"P1-top/{name}", surface_id="P1-top",
            crew_id="red", shift_id="red", starts_at=roster.horizon.at(start),
            ends_at=roster.horizon.at(start + 30),
        )
        for name, start in starts.items()
    }  # fmt: skip
    soak = visits.pop("soak", None)
    if soak is not None:
        visits["soak"] = soak.model_copy(update={"task_id": "P1-top/soak-ahead"})
    words = ClothWords(visits.values(), roster.horizon, LocalClock("Europe/Berlin"))
    laid = words.when_laid(visits["lay"], work) if "lay" in visits else ()
    return words.at_check(visits["hold"], work), laid


COMES_WET = "burlap as it comes off, wet: not dried, not soaked again"


@pytest.mark.parametrize(
    ("starts", "check", "laid"),
    [
        # minute 0 is Monday 06:00 local
        (
            {"soak": 60, "hold": 90, "lay": 900},
            "in water since Mon 3 May 07:00 CEST.",
            (),
        ),
        (
            {"soak": 60, "hold": 89, "lay": 900},
            "goes into water Mon 3 May 07:00 CEST, after this check.",
            (),
        ),
        ({"hold": 90, "lay": 799}, "in water since before this plan.", ()),
        (
            {"hold": 90, "lay": 800},
            "comes wet from where it is lifted: none in water for this.",
            (COMES_WET,),
        ),
    ],
)
def test_the_check_says_how_the_covers_are_and_the_laying_that_they_are_wet(
    starts: dict[str, int], check: str, laid: tuple[str, ...]
) -> None:
    assert said(**starts) == ((f"Burlap {check}",), laid)


def test_nothing_is_said_of_covers_that_nobody_lays() -> None:
    assert said(hold=90) == ((), ())
