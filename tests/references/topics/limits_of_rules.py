"""What rules limit besides days: temperatures, frost, rain, water, looks, delays."""

from collections.abc import Callable, Iterator

from models.profiles.loader import builtin_profile
from models.profiles.period import fits
from models.records import Mix, Profile
from tests.builders import surface
from tests.references.case import Case, How, as_quoted

_HANDBOOK = "Betontechnische Daten, on DIN 1045-3"
_UFGS = "UFGS-03301A, page 42 (tpub copy)"
_F_K = 5 / 9


def _celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32) * _F_K


def _figure(rule: str, name: str) -> Callable[[], float]:
    return lambda: float(getattr(builtin_profile(rule), name))


def _section(rule: str, thickness_mm: float, name: str) -> Callable[[], float]:
    section = builtin_profile(rule).section(thickness_mm)
    return lambda: float(getattr(section, name))


def _mix(**fields: object) -> Mix:
    base = {"id": "x", "strength_mpa": 30, "cement_kg_m3": 340}
    return Mix.model_validate(base | fields)


def _least_placed_c(rule: str, air_c: float, cement_kg_m3: float) -> float:
    """Least temperature of fresh concrete in such air."""
    profile, mix = builtin_profile(rule), _mix(cement_kg_m3=cement_kg_m3)
    asked = (
        row.minimum_c
        for row in profile.placing
        if fits(row, mix, surface())
        and (row.air_below_c is None or air_c < row.air_below_c)
        and (row.cement_below_kg_m3 is None or cement_kg_m3 < row.cement_below_kg_m3)
    )
    return max(asked, default=float("nan"))


def _placed(rule: str, air_c: float, cement_kg_m3: float) -> Callable[[], float]:
    return lambda: _least_placed_c(rule, air_c, cement_kg_m3)


def _flowing_days(profile: Profile, mix: Mix) -> float:
    rows = (row for row in profile.flowing_water if fits(row, mix, surface()))
    return next(rows).days


def _flowing(cement_class: str) -> Callable[[], float]:
    mix = _mix(cement_class=cement_class)
    return lambda: _flowing_days(builtin_profile("ufgs_03301a"), mix)


def _limits() -> Iterator[Case]:
    rows: tuple[
        tuple[str, str, How, str, str, float, Callable[[], float], float], ...
    ] = (
        ("frost-din", _HANDBOOK, "read", "strength that stands one freezing", "MPa", 5,
         _figure("din1045_3", "freezing_strength_mpa"), 0.01),
        ("frost-days-din", _HANDBOOK, "read", "days that stand for that strength", "d",
         3, _figure("din1045_3", "frost_days"), 0.01),
        ("frost-at-din", _HANDBOOK, "read", "temperature of these days", "°C", 10,
         _figure("din1045_3", "frost_days_at_c"), 0.01),
        ("frost-pca", "PCA, Design and Control, chapter 14 (copy)", "read",
         "500 psi", "MPa", 500 * 0.006894757,
         _figure("aci_318", "freezing_strength_mpa"), 0.1),
        ("frost-dutch", "betonhuis.nl, protection of young concrete", "read",
         "strength that stands freezing", "MPa", 5,
         _figure("en13670_class2", "freezing_strength_mpa"), 0.01),
        ("fresh-max-din", _HANDBOOK, "read", "fresh concrete at most", "°C", 30,
         _figure("din1045_3", "placing_max_c"), 0.01),
        ("fresh-mild-din", _HANDBOOK, "read", "fresh concrete, air 0 °C", "°C", 5,
         _placed("din1045_3", 0, 300), 0.01),
        ("fresh-mild-edge-din", _HANDBOOK, "read", "fresh concrete, air -3 °C", "°C",
         5, _placed("din1045_3", -3, 300), 0.01),
        ("fresh-lean-din", _HANDBOOK, "read",
         "fresh concrete of 230 kg/m³, air 0 °C", "°C", 10,
         _placed("din1045_3", 0, 230), 0.01),
        ("fresh-239-din", _HANDBOOK, "read",
         "fresh concrete of 239 kg/m³, air 0 °C", "°C", 10,
         _placed("din1045_3", 0, 239), 0.01),
        ("fresh-240-din", _HANDBOOK, "read",
         "fresh concrete of 240 kg/m³, air 0 °C", "°C", 5,
         _placed("din1045_3", 0, 240), 0.01),
        ("fresh-cold-din", _HANDBOOK, "read", "fresh concrete, air -4 °C", "°C", 10,
         _placed("din1045_3", -4, 300), 0.01),
        ("fresh-max-aci", "ACI FAQ on ACI 301-20 and 305.1-14", "read",
         "95 °F at discharge", "°C", _celsius(95), _figure("aci_318", "placing_max_c"),
         0.1),
        ("fresh-max-is", "IS 7861-1", "from memory", "fresh concrete at most", "°C",
         40, _figure("is456", "placing_max_c"), 0.01),
        ("fresh-max-as", "AS 1379", "from memory", "fresh concrete at most", "°C", 35,
         _figure("as3600_b1", "placing_max_c"), 0.01),
        ("fresh-min-as", "AS 1379", "from memory", "fresh concrete at least", "°C", 5,
         _placed("as3600_b1", 25, 300), 0.01),
        ("fresh-min-en", "a page on EN 206", "read", "fresh concrete at least", "°C",
         5, _placed("en13670_class3", 25, 300), 0.01),
        ("cold-weather", "concrete.org, on ACI 306R-16", "read", "40 °F", "°C",
         _celsius(40), _figure("aci_318", "cold_below_c"), 0.5),
        ("protection", "Concrete Construction, cold-weather protection", "read",
         "normal concrete, thin sections", "d", 3,
         _figure("aci_318", "protection_days"), 0.01),
        ("keep-thin", "Concrete Construction, cold-weather protection", "read",
         "55 °F below 12 in", "°C", _celsius(55),
         _section("aci_318", 299, "minimum_c"), 0.5),
        ("drop-thin", "Concrete Construction, cold-weather protection", "read",
         "50 °F in 24 h below 12 in", "K", 50 * _F_K,
         _section("aci_318", 299, "cooling_max_k"), 0.5),
        ("drop-mass", "ACI 306R as quoted by a trade page", "read",
         "20 °F in 24 h above 72 in", "K", 20 * _F_K,
         _section("aci_318", 2000, "cooling_max_k"), 0.5),
        ("drop-city", "a city's specification 03300 (Laserfiche 185)", "read",
         "50 °F in 24 h", "K", 50 * _F_K, _section("aci_318", 200, "cooling_max_k"),
         0.5),
        ("drop-hour", "UFGS-03300N (tpub copy)", "read", "5 °F in any 1 hour", "K",
         5 * _F_K, _figure("ufgs_03301a", "cooling_hour_max_k"), 0.05),
        ("set-beyond", "four pages on DIN 1045-3", "read",
         "workable for longer lengthens curing", "h", 5,
         _figure("din1045_3", "set_beyond_h"), 0.01),
        ("least-en", "a page on EN 13670", "read", "curing at least", "h", 12,
         _figure("en13670_class2", "minimum_h"), 0.01),
        ("rain-ufgs", _UFGS, "read", "kept from rain", "h", 12,
         _figure("ufgs_03301a", "rain_off_h"), 0.01),
        ("rain-ufgs-72", "UFGS-03372, page 28 (tpub copy)", "read", "kept from rain",
         "h", 12, _figure("ufgs_03301a", "rain_off_h"), 0.01),
        ("flowing-ufgs", _UFGS, "read", "kept from flowing water", "d", 14,
         _flowing("N"), 0.01),
        ("flowing-ufgs-iii", _UFGS, "read", "the same, type III", "d", 7,
         _flowing("R"), 0.01),
        ("water-ufgs", "UFGS-03311, page 39 (tpub copy)", "read",
         "20 °F colder than the concrete", "K", 20 * _F_K,
         _figure("ufgs_03301a", "water_colder_max_k"), 0.2),
        ("looks-ufgs", "UFGS-03301A, page 52 (tpub copy)", "read", "looks a shift",
         "-", 1, _figure("ufgs_03301a", "inspections_per_shift"), 0.01),
        ("looks-off-ufgs", "UFGS-03301A, page 52 (tpub copy)", "read",
         "looks a day off", "-", 1,
         _figure("ufgs_03301a", "inspections_per_non_working_day"), 0.01),
        ("looks-rcc", "UFGS-03701, page 65 (tpub copy)", "read", "looks a shift", "-",
         2, _figure("ufgs_03701", "inspections_per_shift"), 0.01),
        ("looks-off-rcc", "UFGS-03701, page 65 (tpub copy)", "read",
         "looks a day off", "-", 2,
         _figure("ufgs_03701", "inspections_per_non_working_day"), 0.01),
        # 10 to 15 min.
        ("deck-cover", "HPC Bridge Views, May 2001", "read",
         "wet mats on a deck after placing", "min", 12.5,
         _figure("aashto_deck", "cover_within_min"), 2.5),
        ("deck-compound", "TxDOT curing tips (scribd copy)", "read",
         "first coat after texturing", "min", 10,
         _figure("aashto_deck", "compound_within_min"), 0.1),
        ("forms-compound", "a Florida specification 03300, page 17", "read",
         "compound after the forms", "h", 2,
         lambda: builtin_profile("aashto_deck").compound_after_forms_min / 60, 0.01),
    )  # fmt: skip
    return (
        Case(f"limit-{name}", source, how, what, unit, printed, ours, tolerance)
        for name, source, how, what, unit, printed, ours, tolerance in rows
    )


CASES = as_quoted(_limits())
