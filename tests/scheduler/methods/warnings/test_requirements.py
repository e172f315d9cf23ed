"""Warnings of what a method needs and may not get."""

from collections.abc import Sequence
from datetime import timedelta

import pytest

from models.files.inputs.pairs import all_in_pairs
from models.records import (
    CoverStock,
    Finding,
    Pour,
    SiteInput,
    Weather,
    WeatherHour,
)
from scheduler.methods.surfaces import planning_grid, surfaces_of
from scheduler.methods.warnings.requirements import warnings_of
from tests.builders import pour, site_input
from tests.scheduler.methods.methods_builders import drying, hour, hydration


def warned(
    given: SiteInput, concrete_c: float = 20, fog: bool = False
) -> tuple[Finding, ...]:
    surfaces, grid = surfaces_of(given), planning_grid(given)
    need = ((hour(5), hour(8)),) if fog else ()
    return warnings_of(
        given,
        surfaces,
        hydration(surfaces, grid, concrete_c=concrete_c),
        drying(surfaces, grid, fog=need),
    )


def mild(*odd: tuple[float, dict[str, float]]) -> Weather:
    """Still and mild, but for single hours given as hours from minute 0."""

    def one(index: int) -> WeatherHour:
        base: dict[str, float] = {
            "air_temperature_c": 15, "humidity_fraction": 0.6, "wind_m_s": 2,
        }  # fmt: skip
        for at_h, fields in odd:
            if index == 48 + at_h:
                base |= fields
        at = hour(-48) + timedelta(hours=index)
        return WeatherHour.model_validate({"at": at} | base)

    return Weather(hours=tuple(one(i) for i in range(11 * 24)))


def on(weather: Weather, *pours: Pour) -> SiteInput:
    return site_input(*pours).model_copy(update={"weather": weather})


def words(found: Sequence[Finding], kind: str) -> list[str]:
    return [f.words for f in found if f.kind == kind]


def test_mild_weather_warns_of_nothing() -> None:
    for method in ("burlap_double", "plastic_sheet", "compound_clear", "cotton_mats"):
        assert warned(on(mild(), pour(method=method)), fog=True) == ()


def test_frost_on_wet_burlap() -> None:
    """Hour 30 is Tuesday 12:00 local."""
    found = warned(on(mild((30, {"air_temperature_c": -1}))))
    assert words(found, "temperature") == [
        "P1 Quay slab, top: -1 °C forecast Tue 12:00; burlap needs 5 °C or more "
        "(open wet covers freeze on a clear night; from memory)"
    ]
    assert (found[0].starts_at, found[0].ends_at) == (hour(30), hour(31))


def test_frost_after_curing_does_not_matter() -> None:
    """Curing ends 72 h after placing, which ends at hour 5."""
    assert not warned(on(mild((80, {"air_temperature_c": -1}))))


def test_the_same_frost_is_said_once_for_all_surfaces() -> None:
    cold = mild((30, {"air_temperature_c": -1}))
    found = warned(on(cold, *(pour(f"P{i}") for i in range(5))))
    assert len(found) == 1
    assert found[0].words.startswith(
        "P0 Quay slab, top; P1 Quay slab, top; P2 Quay slab, top and 2 more: -1 °C"
    )
    assert found[0].surface_id is None


def test_wind_while_a_sheet_is_laid_counts_shelter() -> None:
    """Ready at hour 8; 10 m/s are 5 m/s behind shelter, under the 8.3 of a sheet."""
    windy = mild((8, {"wind_m_s": 10}))
    found = warned(on(windy, pour(method="plastic_sheet")))
    assert (
        "wind 10.0 m/s forecast Mon 14:00; limit for sheet is 8.3 m/s" in found[0].words
    )
    sheltered = pour(method="plastic_sheet", exposure="sheltered")
    assert not warned(on(windy, sheltered))


def test_wind_carries_fog_away() -> None:
    """Fog from hour 5 to 8 at most; the limit is 20 km/h, 5.6 m/s."""
    windy = mild((6, {"wind_m_s": 7}))
    assert "limit for fog is 5.6 m/s" in warned(on(windy), fog=True)[0].words
    assert not warned(on(windy))


def test_rain_on_fresh_compound() -> None:
    """Sheen gone at hour 7, sealed at 8.9, watched three hours more."""
    clear = pour(method="compound_white")
    assert "2.0 mm of rain" in warned(on(mild((10, {"rain_mm": 2})), clear))[0].words
    assert not warned(on(mild((13, {"rain_mm": 2})), clear))


@pytest.mark.parametrize(
    ("air_c", "said"), [(36, "limit for compound is 35 °C"), (4, "5 °C or more")]
)
def test_compound_has_a_range_of_air_temperature(air_c: float, said: str) -> None:
    given = on(mild((7, {"air_temperature_c": air_c})), pour(method="compound_white"))
    assert said in warned(given)[0].words


def test_clear_compound_in_hot_sun_wants_shade() -> None:
    """UFGS-03301A (read): from 90 °F, 32 °C, for three days."""
    hot = mild((30, {"air_temperature_c": 33, "solar_w_m2": 600}))
    assert (
        "shade clear compound"
        in warned(on(hot, pour(method="compound_clear")))[0].words
    )
    assert not warned(on(hot, pour(method="compound_white")))


def with_stock(given: SiteInput, stock_m2: float, soak_lead_h: float = 0) -> SiteInput:
    stock = CoverStock(
        kind="burlap_double",
        stock_m2=stock_m2,
        soak_lead_h=soak_lead_h,
        turnaround_h=4,
    )
    where = given.site.model_copy(update={"covers": (stock,)})
    return given.model_copy(update={"site": where})


def test_more_covers_wanted_than_owned() -> None:
    """Two slabs of 300 m² from Monday 14:00; lifted Friday 06:51 and 4 h of washing."""
    two = on(mild(), pour("P1"), pour("P2"))
    found = warned(with_stock(two, 500))
    assert words(found, "covers_short") == [
        "P1 Quay slab, top; P2 Quay slab, top need 600 m² of wet burlap, two layers, "
        "Mon 14:00 to Fri 10:51; the site owns 500 m²"
    ]
    assert found[0].limit == "covers"
    assert not warned(with_stock(two, 600))


def test_covers_changed_for_others_come_free_too() -> None:
    """The first slab is changed on Tuesday, 24 h after placing; 4 h of washing."""
    first = pour("P1", then_method="plastic_sheet", then_after="1 d")
    later = pour("P2", placing_starts_at=hour(33), placing_ends_at=hour(37))
    found = warned(with_stock(on(mild(), first, later), 300))
    assert not words(found, "covers_short")
    kept = pour("P1")
    assert words(warned(with_stock(on(mild(), kept, later), 300)), "covers_short")


@pytest.mark.parametrize(
    ("lead_h", "said"),
    [(0, "owns 500 m²"), (6, "order more by Mon 08:00"), (48, "too late to order")],
)
def test_covers_that_must_be_ordered_name_the_last_time(lead_h: int, said: str) -> None:
    """Short from Monday 14:00 on; the plan begins at 06:00."""
    given = with_stock(on(mild(), pour("P1"), pour("P2")), 500)
    (stock,) = given.site.covers
    stock = stock.model_copy(update={"lead_time_h": lead_h})
    where = given.site.model_copy(update={"covers": (stock,)})
    (found,) = words(warned(given.model_copy(update={"site": where})), "covers_short")
    assert said in found


def test_covers_come_free_for_the_next_pour() -> None:
    """The second pour is ready on Friday 14:00, the first one's covers at 10:51."""
    later = pour("P2", placing_starts_at=hour(97), placing_ends_at=hour(101))
    found = warned(with_stock(on(mild(), pour("P1"), later), 300))
    assert not words(found, "covers_short")


def test_covers_in_water_for_the_next_pour_are_nobody_elses() -> None:
    """Soaked from 3.1 h before Friday 14:00, so from 10:54; from 3.2 h before it."""
    later = pour("P2", placing_starts_at=hour(97), placing_ends_at=hour(101))
    both = on(mild(), pour("P1"), later)
    assert not words(warned(with_stock(both, 300, 3.1)), "covers_short")
    (found,) = words(warned(with_stock(both, 300, 3.2)), "covers_short")
    assert "Fri 10:48–10:51" in found


def supplied(water_c: float, *pours: Pour) -> SiteInput:
    given = on(mild(), *pours)
    points = tuple(
        p.model_copy(update={"temperature_c": water_c}) for p in given.site.water_points
    )
    where = given.site.model_copy(update={"water_points": points})
    return given.model_copy(update={"site": where})


def test_cold_water_on_warm_concrete() -> None:
    """UFGS-03311 (read): 11 K; water at 8 °C under concrete at 20 °C."""
    cold = supplied(8, pour(method="ponding"))
    (found,) = [f for f in warned(cold) if f.kind == "cold_water"]
    assert found.words.startswith("P1 Quay slab, top: water from Tap at gate 8 °C, ")
    assert "concrete 20 °C" in found.words
    assert "limit is 11 K apart" in found.words
    assert not words(warned(cold, concrete_c=19), "cold_water")


@pytest.mark.parametrize(
    "method", ["burlap_double", "cotton_mats", "plastic_sheet", "sheet_over_burlap"]
)
def test_a_litre_of_cold_water_on_a_cover_is_no_matter(method: str) -> None:
    assert not words(warned(supplied(2, pour(method=method)), 40), "cold_water")


def test_cold_water_on_a_pond_and_on_sand_is_one_line_of_the_screen() -> None:
    # 25 mm and 10 L/m²; double burlap of 1.5 L/m² beside them is no matter.
    pours = [pour(f"P{i}", method="ponding") for i in range(3)]
    pours += [pour("P3", method="wet_sand"), pour("P4")]
    (words_,) = words(warned(supplied(2, *pours), 30), "cold_water")
    assert words_.startswith("4 surfaces: water from Tap at gate 2 °C, concrete ")


def test_the_profiles_own_limit_on_cold_water_comes_first() -> None:
    given = supplied(14, pour(method="ponding"))
    rule = given.profiles["seven_days"].model_copy(update={"water_colder_max_k": 5.0})
    strict = given.model_copy(update={"profiles": {"seven_days": rule}})
    assert "limit is 5 K apart" in words(warned(strict), "cold_water")[0]


def with_people(given: SiteInput, people: int) -> SiteInput:
    crews = tuple(c.model_copy(update={"people": people}) for c in given.site.crews)
    where = given.site.model_copy(update={"crews": crews})
    return given.model_copy(update={"site": where})


def test_work_for_more_people_than_any_gang_has() -> None:
    found = warned(with_people(on(mild(), pour(area_m2=60)), 1))
    assert any(
        "lay wet burlap needs 2 people; the largest gang has 1" in w
        for w in words(found, "missed")
    )


def test_a_slab_too_large_to_be_fogged_by_the_gang() -> None:
    """4 people can keep 4 × 250 m² damp."""
    found = warned(on(mild(), pour(area_m2=1200)), fog=True)
    assert any("one person keeps 250 m² damp at most" in w for w in
               words(found, "missed"))  # fmt: skip
    assert not words(warned(on(mild(), pour(area_m2=1000)), fog=True), "missed")


def test_all_parties_on_shift_fog_a_slab_together() -> None:
    """Two pairs are four people too; 1200 / 150 are eight nozzles of 1.9 L/min."""

    def said(area_m2: float, flow_l_min: float) -> list[str]:
        given = with_flow(on(mild(), pour(area_m2=area_m2)), flow_l_min)
        crews = all_in_pairs(given.site.crews, given.site.shifts)
        where = given.site.model_copy(update={"crews": crews})
        paired = given.model_copy(update={"site": where})
        return [w for w in words(warned(paired, fog=True), "missed") if "fog" in w]

    assert said(1200, 40) == [
        "P1 Quay slab, top: fog the fresh surface has 4 people for 1,200 m²; one "
        "person keeps 250 m² damp at most"
    ]
    assert said(1000, 40) == []
    assert said(1000, 12) == [
        "P1 Quay slab, top: fog the fresh surface needs 13 L/min; its water point "
        "gives 12 L/min"
    ]


def test_a_rewet_longer_than_anybody_works_without_a_break() -> None:
    """9000 m² at 120 by four: 1125 min and 6; their day has 300 before the break."""
    huge = pour(area_m2=9000, method="plastic_sheet")
    found = words(warned(on(mild(), huge)), "missed")
    assert (
        "P1 Quay slab, top: re-wet under sheet takes 1131 min with 4 people; nobody "
        "works longer than 300 min without a break: more people, smaller pours"
    ) in found


def with_flow(given: SiteInput, flow_l_min: float) -> SiteInput:
    points = tuple(
        p.model_copy(update={"flow_l_min": flow_l_min}) for p in given.site.water_points
    )
    where = given.site.model_copy(update={"water_points": points})
    return given.model_copy(update={"site": where})


def test_a_water_point_too_weak_for_a_rewet() -> None:
    """300 L at 0.5 L/min are 600 min and 6; the gang's day has 300, a night 480."""
    found = words(warned(with_flow(on(mild()), 0.5)), "missed")
    assert (
        "P1 Quay slab, top: re-wet burlap takes 606 min at the 0 L/min of its water "
        "point; nobody works longer than 480 min without a break"
    ) in found


def test_a_water_point_too_weak_for_the_nozzles() -> None:
    """Two nozzles of 1.9 L/min on 3 L/min."""
    found = words(warned(with_flow(on(mild()), 3), fog=True), "missed")
    assert (
        "P1 Quay slab, top: fog the fresh surface needs 4 L/min; its water point gives "
        "3 L/min"
    ) in found


def test_fog_needed_and_nobody_who_fogs() -> None:
    given = on(mild())
    crews = tuple(
        c.model_copy(update={"skills": ("labourer",)}) for c in given.site.crews
    )
    where = given.site.model_copy(update={"crews": crews})
    found = warned(given.model_copy(update={"site": where}), fog=True)
    assert words(found, "missed") == [
        "P1 Quay slab, top: fog the fresh surface needs a fogger; no crew has one"
    ]
