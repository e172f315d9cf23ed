"""Faces that cool too fast within an hour or a day, under a cover or bare."""

from dataclasses import replace
from datetime import timedelta

import numpy as np

from models.drying.covers import cover_properties
from models.local_clock import WeekClock
from models.records import (
    CoverStage,
    EventWindow,
    Floats,
    Profile,
    SectionRow,
    SteamCycle,
    Surface,
)
from scheduler.audit.checks.cooling import check_cooling, falls_k
from tests.builders import MONDAY, profile, site, site_input, surface
from tests.scheduler.audit.audit_builders import HORIZON, grid, hydration, work

ON = grid(HORIZON, 0)
HOURS = np.arange(ON.steps) * ON.step_min / 60


def falling(from_h: float, rate_k_h: float, for_h: float) -> Floats:
    """A face at 30 °C that falls for some hours and stays there."""
    return 30 - rate_k_h * np.clip(HOURS - from_h, 0, for_h)


def found(
    face_c: Floats,
    mean_c: Floats | None = None,
    top: Surface | None = None,
    sets_h: float = 0,
    ends_min: int = 20_000,
    units: str = "si",
) -> list[str]:
    """What a rule of 2.8 K in an hour and 28 K in a day says of it."""
    of = top or surface()
    rows = [SectionRow(cooling_max_k=28, clause="by the day").model_dump()]
    limits = {"cooling_hour_max_k": 2.8, "sections": rows}
    rule = Profile.model_validate(profile().model_dump() | limits)
    base = site_input()
    where = site().model_copy(update={"units": units})
    given = base.model_copy(
        update={"profiles": {"seven_days": rule}, "site": where, "horizon": HORIZON}
    )
    flat = hydration(ON, [of])
    at = MONDAY + timedelta(hours=sets_h)
    sets = EventWindow(earliest_at=at, expected_at=at, latest_at=at)
    events = (flat.events[0].model_copy(update={"final_set": sets}),)
    history = replace(
        flat,
        surface_temperature_c=face_c[:, None],
        mean_temperature_c=(face_c if mean_c is None else mean_c)[:, None],
        events=events,
    )
    works = [work(ends_min=ends_min)]
    clock = WeekClock("Europe/Berlin", HORIZON)
    return [f.words for f in check_cooling(given, [of], works, history, clock)]


# UFGS-03300N (read in a copy): 5 °F, 2.8 K, in any 1 hour and 50 °F, 28 K, in 24 h.
def test_a_face_under_burlap_that_falls_too_far_in_an_hour_is_named() -> None:
    assert found(falling(10, 2.75, 1)) == []
    assert found(falling(10, 3, 1)) == [
        "P1 top cools by 3.0 K in an hour from Mon 16:00; at most 2.8 K (Seven days)"
    ]
    assert found(falling(10, 3, 1), units="us") == [
        "P1 top cools by 5.4 °F in an hour from Mon 16:00; at most 5.0 °F (Seven days)"
    ]


def test_a_day_is_held_against_the_limit_of_its_section() -> None:
    # 2 K an hour for 14 h are 28 K, for 14.5 h 29 K.
    assert found(falling(10, 2, 14)) == []
    assert found(falling(10, 2, 14.5)) == [
        "P1 top cools by 29.0 K in 24 h from Mon 06:30; at most 28.0 K (by the day)"
    ]


def test_what_the_sun_warmed_above_the_rest_does_not_count() -> None:
    face_c = falling(10, 4, 1)
    assert found(face_c, mean_c=np.full(ON.steps, 28.0)) == []  # 2 K below the rest
    assert len(found(face_c, mean_c=np.full(ON.steps, 29.0))) == 1  # 3 K


def test_soft_concrete_and_cured_concrete_do_not_count() -> None:
    assert found(falling(10, 4, 2), sets_h=12) == []
    assert len(found(falling(10, 4, 2), sets_h=11)) == 1
    assert found(falling(10, 4, 2), ends_min=10 * 60) == []


def test_steam_has_its_own_rate_of_fall() -> None:
    hours = (2, 4, 10, 16)
    times = [MONDAY + timedelta(hours=h) for h in hours]
    cycle = SteamCycle(
        starts_at=times[0], hold_from_at=times[1], hold_until_at=times[2],
        ends_at=times[3], hold_c=60,
    )  # fmt: skip
    steamed = surface(steam=cycle)
    assert found(falling(10, 4, 6), top=steamed) == []
    assert len(found(falling(17, 4, 6), top=steamed)) == 1


def test_the_day_after_a_change_of_cover_is_looked_at_by_itself() -> None:
    then = CoverStage(
        method="plastic_sheet",
        cover=cover_properties("plastic_sheet"),
        starts_at=MONDAY + timedelta(hours=9),
        reason="for the test",
    )
    assert found(falling(9, 4, 3), top=surface(later=(then,))) == []
    assert len(found(falling(34, 4, 3), top=surface(later=(then,)))) == 1


def test_falls_look_ahead_no_further_than_asked() -> None:
    face_c = np.array([10.0, 9, 7, 8, 4])
    # From 10: 7 within two steps; from 9: 7; from 7: 4; from 8: 4; the last is the end.
    assert falls_k(face_c, np.full(5, 20.0), 2).tolist() == [3, 2, 3, 4, 0]
