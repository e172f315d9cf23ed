"""Rain on fresh concrete, and concrete placed too cold or too warm: said beforehand."""

import pytest

from models.profiles.loader import builtin_profile
from models.records import Finding, Pour, Profile, SiteInput
from scheduler.methods.surfaces import planning_grid, surfaces_of
from scheduler.methods.warnings.requirements import warnings_of
from tests.builders import pour, site_input
from tests.scheduler.methods.methods_builders import (
    drying,
    hour,
    hydration,
    work_of,
)
from tests.scheduler.methods.warnings.test_requirements import mild, on


def tuesday(**fields: object) -> Pour:
    """Placed in hours 25 to 29 of the plan, 07:00 to 11:00; covered 3 h later."""
    times = {"placing_starts_at": hour(25), "placing_ends_at": hour(29)}
    return pour("P1", **(times | fields))


def told(given: SiteInput) -> tuple[Finding, ...]:
    surfaces, grid = surfaces_of(given), planning_grid(given)
    clocks = hydration(surfaces, grid, concrete_c=20), drying(surfaces, grid)
    found = warnings_of(given, surfaces, *clocks)
    return tuple(f for f in found if f.kind in ("weather", "temperature"))


def raining(
    *at_h: float, mm: float = 1.6, method: str = "burlap_double", exposure: str = "open"
) -> SiteInput:
    wet = mild(*((h, {"rain_mm": mm}) for h in at_h))
    return on(wet, tuesday(method=method, exposure=exposure))


def ruled(given: SiteInput, rule: Profile) -> SiteInput:
    return given.model_copy(update={"profiles": {"seven_days": rule}})


def test_rain_from_placing_until_the_cover_is_on_is_told_with_its_hours() -> None:
    (found,) = told(raining(26, 28, 40))
    assert found.kind == "weather"
    assert found.words.startswith(
        "P1 Quay slab, top: 3.2 mm of rain forecast on the fresh surface Tue 08:00–"
        "11:00; keep sheets on frames at hand or pour another day ("
    )
    assert (found.starts_at, found.ends_at) == (hour(26), hour(29))


@pytest.mark.parametrize(
    ("at_h", "exposure"),
    [
        (23, "open"),  # before it is placed
        (36, "open"),  # under its burlap
        (27, "indoors"),
        (27, "sheltered"),
    ],
)
def test_other_rain_is_no_matter(at_h: float, exposure: str) -> None:
    assert told(raining(at_h, exposure=exposure)) == ()


def test_a_drizzle_leaves_no_mark() -> None:
    assert told(raining(27, mm=0.1)) == ()
    assert len(told(raining(27, mm=0.2))) == 1


# UFGS-03301A (read in a secondary copy): protected from rain for 12 h.
def test_a_rule_keeps_rain_off_open_covers_for_its_own_hours() -> None:
    rule = builtin_profile("ufgs_03301a")
    (found,) = told(ruled(raining(40), rule))  # 11 h after placing, under burlap
    assert "(12 h: US military guide specification, structures)" in found.words
    assert told(ruled(raining(41), rule)) == ()
    assert told(ruled(raining(40, method="plastic_sheet"), rule)) == ()


def test_a_pour_under_way_when_the_plan_begins_is_told_of_no_more() -> None:
    wet = mild((1, {"rain_mm": 2.0}))
    begun = pour(placing_starts_at=hour(-2), placing_ends_at=hour(2))
    assert told(on(wet, begun)) == ()


def test_the_hold_point_says_what_is_kept_off_and_how_long() -> None:
    # Flowing water 14 days, 7 with type III cement (read in a secondary copy).
    rule = builtin_profile("ufgs_03301a")
    given = ruled(site_input(tuesday()), rule)
    assert _kept_off(given) == (
        "Kept off it: rain for 12 h, flowing water for 14 days "
        "(US military guide specification, structures)."
    )
    mix = given.site.mixes[0].model_copy(update={"cement_class": "R"})
    site = given.site.model_copy(update={"mixes": (mix,)})
    rapid = _kept_off(given.model_copy(update={"site": site}))
    assert "flowing water for 7 days" in rapid
    assert "Kept off" not in _kept_off(site_input(tuesday()))


def _kept_off(given: SiteInput) -> str:
    tasks = work_of(given, curing_h=160).surfaces[0].tasks
    steps = next(task for task in tasks if task.kind == "hold_point").steps
    return next((step for step in steps if step.startswith("Kept off")), "")


def placed(concrete_c: float, air_c: float, rule: str, cement: float) -> list[str]:
    still = mild((27, {"air_temperature_c": air_c}))
    given = on(still, tuesday(placing_temperature_c=concrete_c))
    mix = given.site.mixes[0].model_copy(update={"cement_kg_m3": cement})
    site = given.site.model_copy(update={"mixes": (mix,)})
    given = ruled(given.model_copy(update={"site": site}), builtin_profile(rule))
    return [f.words for f in told(given) if "concrete delivered" in f.words]


# DIN 1045-3 (a cement industry handbook, read): 5 °C in air of +5 to -3 °C, 10 °C with
# less than 240 kg/m³ of cement or in colder air, at most 30 °C.
@pytest.mark.parametrize(
    ("concrete_c", "air_c", "cement", "wanted"),
    [
        (5, 4, 340, None), (4, 4, 340, "5 °C or more"), (4, 6, 340, None),
        (9, 0, 230, "10 °C or more"), (9, 0, 240, None), (10, 0, 230, None),
        (9, -4, 340, "10 °C or more"), (10, -4, 340, None), (9, -3, 340, None),
        (30, 15, 340, None), (31, 15, 340, "limit is 30 °C"),
    ],
)  # fmt: skip
def test_din_limits_the_concrete_as_it_comes(
    concrete_c: float, air_c: float, cement: float, wanted: str | None
) -> None:
    found = placed(concrete_c, air_c, "din1045_3", cement)
    assert len(found) == (wanted is not None)
    assert wanted is None or wanted in found[0]


def test_the_words_name_concrete_air_hour_and_clause() -> None:
    (found,) = placed(8, -5, "din1045_3", 340)
    assert found == (
        "P1 Quay slab, top: concrete delivered at 8 °C, air -5 °C forecast Tue 09:00; "
        "needs 10 °C or more (DIN 1045-3, fresh concrete in air below -3 °C, and kept "
        "so for 3 days; read in a secondary copy)"
    )


# ACI 301 and 305.1: 35 °C (read); EN 206: 5 °C (read); AS 1379: 5 to 35 °C, IS 7861-1:
# 40 °C (both from memory).
@pytest.mark.parametrize(
    ("rule", "least_c", "most_c"),
    [
        ("aci_318", None, 35), ("en13670_class2", 5, None), ("as3600_b1", 5, 35),
        ("is456", None, 40), ("is456_hot_dry", None, 40), ("bs8110", None, None),
    ],
)  # fmt: skip
def test_other_rules_limit_it_too(
    rule: str, least_c: float | None, most_c: float | None
) -> None:
    assert bool(placed(4.9, 15, rule, 340)) == (least_c == 5)
    assert placed(5, 15, rule, 340) == []
    if most_c is not None:
        assert placed(most_c, 15, rule, 340) == []
        (found,) = placed(most_c + 1, 15, rule, 340)
        assert f"limit is {most_c} °C" in found
    else:
        assert placed(45, 15, rule, 340) == []
