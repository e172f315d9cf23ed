"""Heat of cements by class and of blends: calorimeters and adiabatic tests.

A range is told by its middle and half its width.
"""

from collections.abc import Callable, Iterator
from functools import partial

from models.hydration.binder import CEMENTS, PLAIN_ENERGY_J_MOL, Shares, binder_heat
from models.hydration.mix_figures import heat_figures
from models.hydration.section import CONCRETE_CAPACITY_J_M3K
from tests.references.case import Case
from tests.references.concretes import adiabatic_rise_k, heat_kj_kg, mix

_CLASSES = "Betontechnische Daten, 9.5, heat of hydration"
_FLORIDA = "A. Parham, University of Florida (2004)"
_RIDING = "Riding et al. (2011, 2012), in a public notebook"
_THOMAS = "M. Thomas, Supplementary Cementing Materials, ch. 9 (abstract)"
#: Class of EN 197 -> lowest and highest heat by day, isothermal at 20 °C.
_BY_CLASS = {
    "R": {1: (200, 275), 3: (300, 350), 7: (325, 375), 28: (375, 425)},
    "N": {1: (125, 200), 3: (200, 335), 7: (275, 375), 28: (300, 425)},
    "S": {1: (60, 175), 3: (125, 250), 7: (150, 300), 28: (200, 375)},
}


def _inside(name: str, source: str, quantity: str, unit: str, low: float, high: float,
            ours: Callable[[], float], slack: float = 0.0) -> Case:  # fmt: skip
    middle, half = (low + high) / 2, (high - low) / 2
    return Case(name, source, "read", quantity, unit, middle, ours, half + slack)


def _complete_kj_kg(cement_class: str, slag: float = 0.0) -> float:
    shares = Shares(slag=slag)
    return binder_heat(CEMENTS[cement_class], shares, 0.5).heat_j_kg / 1000


def _over_500(cement_class: str) -> float:
    return max(0.0, _complete_kj_kg(cement_class) - 500)


def _figure(name: str, **fields: float) -> float:
    return float(getattr(heat_figures(mix(**fields)), name))


def _cements() -> Iterator[Case]:
    for cement_class, by_day in _BY_CLASS.items():
        of = mix(cement_class=cement_class)
        for days, (low, high) in by_day.items():
            yield _inside(
                f"heat-{cement_class}-{days}d", _CLASSES,
                f"heat of class {cement_class} at {days} d, {low} to {high}", "kJ/kg",
                low, high, partial(heat_kj_kg, of, days),
            )  # fmt: skip
    for cement_class in _BY_CLASS:
        yield _inside(
            f"heat-complete-{cement_class}", _CLASSES,
            f"complete heat of Portland cement, class {cement_class}, 375 to 525",
            "kJ/kg", 375, 525, partial(_complete_kj_kg, cement_class),
        )  # fmt: skip
        yield Case(
            f"heat-most-{cement_class}", _THOMAS,
            "read", f"class {cement_class}: 500 at most, less of it is 0", "kJ/kg", 0.0,
            partial(_over_500, cement_class), 1.0,
        )  # fmt: skip
    for slag in (0.5, 0.7):
        yield _inside(
            f"heat-complete-slag-{slag:g}", _CLASSES,
            f"complete heat of slag cement, {slag:.0%} slag, 355 to 440", "kJ/kg",
            355, 440, partial(_complete_kj_kg, "N", slag),
        )  # fmt: skip


def _lower_peak(start_c: float, **shares: float) -> float:
    """By how much a blend's adiabatic rise of 14 days falls short of plain's [%]."""
    plain, blend = (
        adiabatic_rise_k(mix(cement_kg_m3=415, **each), start_c, 14.0)
        for each in ({}, shares)
    )  # fmt: skip
    return 100 * (1 - blend / plain)


def _florida() -> Iterator[Case]:
    """Averages of two cements, which lie 3 to 9 points apart at 23 °C, to 16 at 35."""
    rows = (
        ("fly_ash", 0.20, 10.6, 5.8), ("fly_ash", 0.35, 21.7, 13.3),
        ("slag", 0.50, 11.2, 2.4), ("slag", 0.70, 22.7, 15.2),
    )  # fmt: skip
    for kind, share, at_23_c, at_35_c in rows:
        of = {f"{kind}_fraction": share}
        for start_c, found, tolerance in ((22.8, at_23_c, 5), (35.0, at_35_c, 8)):
            yield Case(
                f"peak-{kind}-{share:g}-{start_c:g}c", f"{_FLORIDA}, Table 5-5", "read",
                f"adiabatic rise lower by, {share:.0%} {kind}, placed "
                f"at {start_c:g} °C", "%", found, partial(_lower_peak, start_c, **of),
                tolerance,
            )  # fmt: skip
    for share, fitted in ((0.3, 3.6), (0.6, 16.2)):  # 50 r² - 3 r
        yield Case(
            f"peak-slag-fit-{share:g}", f"{_FLORIDA}, Table 5-6", "read",
            f"adiabatic rise lower by, {share:.0%} slag, by their fit", "%", fitted,
            partial(_lower_peak, 22.8, slag_fraction=share), 5.0,
        )  # fmt: skip
    # 560 lb of cement and 240 of ash, which counts 0.41: (560 + 0.41 × 240)/800.
    yield Case(
        "rise-30-ash", f"{_FLORIDA}, appendix C", "read",
        "rise with 30 % fly ash over that of cement alone", "-", 0.823,
        lambda: 1 - _lower_peak(22.8, fly_ash_fraction=0.3) / 100, 0.05,
    )  # fmt: skip


def _ratios() -> Iterator[Case]:
    """C3S 0.58, C3A 0.08, C4AF 0.09, SO3 0.03 of the cement; ash with 5 % lime."""
    slag, ash = {"slag_fraction": 0.5}, {"fly_ash_fraction": 0.25}
    # Alkalis 0.006, Blaine 370; by phases with free lime .01 and magnesia .02.
    rows: tuple[tuple[str, dict[str, float], float, float], ...] = (
        ("plain", {}, 39_044, 486.3),
        ("half slag", slag, 41_727, 473.6),
        ("25 % ash", ash, 36_247, 387.2),
    )
    for name, of, energy, heat_kj_kg_found in rows:
        key = name.replace(" ", "-")
        yield Case(
            f"energy-{key}", _RIDING, "read", f"activation energy of heat, {name}",
            "J/mol", energy, partial(_figure, "energy_j_mol", **of), 1_500,
        )  # fmt: skip
        yield Case(
            f"phases-{key}", _RIDING, "read", f"complete heat by phases, {name}",
            "J/kg", 1000 * heat_kj_kg_found, partial(_figure, "heat_j_kg", **of), 0.08,
            True,
        )  # fmt: skip
    for water, found in ((0.35, 0.663), (0.45, 0.720), (0.60, 0.779)):
        yield Case(
            f"degree-{water:g}", _RIDING, "regression",
            f"ultimate degree at water {water:g}, first term", "-", found,
            partial(_figure, "ultimate_fraction", water_cement_fraction=water), 0.001,
        )  # fmt: skip


def _half_slag() -> Iterator[Case]:
    """Tau 44.96 h, slope 0.479, degree 0.893, 474 kJ/kg, worked at 0.94 h an hour."""
    for days, found in ((1, 93), (3, 188), (7, 254)):
        yield Case(
            f"heat-half-slag-{days}d", "Schindler and Folliard (2005), worked",
            "from memory", f"heat of half slag at {days} d and 20 °C", "kJ/kg", found,
            partial(heat_kj_kg, mix(slag_fraction=0.5), days), 0.10, True,
        )  # fmt: skip


def _old_types() -> Iterator[Case]:
    for name, cement_class, found in (("I", "N", 364), ("III", "R", 440)):
        yield Case(
            f"aci-207-{name}", "ACI 207.1R, heat of hydration", "from memory",
            f"heat of type {name} at 28 d, class {cement_class}", "kJ/kg", found,
            partial(heat_kj_kg, mix(cement_class=cement_class), 28), 0.12, True,
        )  # fmt: skip


CASES = (
    *_cements(),
    *_florida(),
    *_ratios(),
    *_half_slag(),
    *_old_types(),
    _inside(
        "rise-per-100-kg", _THOMAS, "rise of a large pour per 100 kg/m³, 12 to 14 K",
        "K", 12, 14, lambda: adiabatic_rise_k(mix(cement_kg_m3=350), 20.0, 7.0) / 3.5,
        0.4,
    ),
    # 0.84 of cement and aggregate, 4.2 of water: 300, 1900 and 150 kg/m³.
    Case(
        "capacity", "Betontechnische Daten, 9.5, capacity", "read",
        "heat capacity of concrete", "kJ/(m³ K)", 2478.0,
        lambda: CONCRETE_CAPACITY_J_M3K / 1000, 0.05, True,
    ),
    Case(
        "c1074-type-I", "ASTM C1074 and Carino (1984)", "from memory",
        "activation energy of type I, 40 to 45 kJ/mol", "J/mol", 42_500,
        lambda: PLAIN_ENERGY_J_MOL, 2_500,
    ),
)  # fmt: skip
