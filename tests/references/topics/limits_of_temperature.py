"""How hot, uneven or cold concrete may be by rules, and from when their days count."""

from collections.abc import Callable, Iterable, Iterator
from functools import partial

import numpy as np

from models.hydration.course import MASSIVE_FROM_MM
from models.profiles.loader import builtin_profile, profile_ids
from tests.references.case import Case, How, as_quoted
from tests.references.periods import days

_FAQ = "ACI FAQ 889, on ACI 301-20"
_GERMAN = "Betontechnische Daten, massive members"
_F_K = 5 / 9
#: Rules that say so themselves; all others take what is usual.
_OF_GERMANY = ("din1045_3", "din1045_3_dry", "ztv_ing")
_OF_AMERICA = ("aci_318", "aashto_deck", "ufgs_03301a", "ufgs_03701")
_OTHERS = tuple(r for r in profile_ids() if r not in (*_OF_GERMANY, "aci_318"))
_IN_MPA = tuple(r for r in profile_ids() if r not in _OF_AMERICA)
#: Rule -> coldest day that counts, who says so, how known.
_COUNTS_FROM: tuple[tuple[str, float, str, How], ...] = (
    ("aci_318", 10, "a city's specification 03300 (Laserfiche 185)", "read"),
    ("csa_a23_1_basic", 10, "Ready Mixed Concrete Association of Ontario", "read"),
    ("csa_a23_1_extended", 10, "Ready Mixed Concrete Association of Ontario", "read"),
    ("csa_a23_1_additional", 10, "CSA A23.1, curing types", "from memory"),
    ("din1045_3", 5, "zimmermann-beton.de, table of DIN 1045-3", "read"),
    ("din1045_3_dry", 5, "Betontechnische Daten, on DIN 1045-3", "read"),
    ("en13670_class1", 5, "EN 13670:2009, Annex F", "from memory"),
    ("en13670_class3", 5, "EN 13670:2009, Annex F", "from memory"),
    ("bs8110", 5, "BS 8110-1, Table 6.1", "from memory"),
    ("ufgs_03301a", 4, "UFGS-03301A, 40 °F", "from memory"),
)
#: ACI 306R, Table 3.1: thickness [in], least °F, most in 24 h [°F]; just inside the
#: limits of 12, 36 and 72 in, which rules in SI round down, and just outside.
_SECTIONS = ((11.5, 55, 50), (12.5, 50, 40), (35, 50, 40), (37, 45, 30), (70, 45, 30),
             (73, 40, 20))  # fmt: skip


def _figure(rule: str, name: str) -> Callable[[], float]:
    return lambda: float(getattr(builtin_profile(rule), name))


def _farthest(rules: Iterable[str], name: str, printed: float) -> Callable[[], float]:
    """Of all these rules the figure that lies farthest from what is printed."""
    found = [float(getattr(builtin_profile(rule), name) or 0) for rule in rules]
    return lambda: max(found, key=lambda value: abs(value - printed))


def _section(rule: str, inches: float, name: str) -> float:
    section = builtin_profile(rule).section(25.4 * inches)
    return float(getattr(section, name) or 0)


def _farthest_drop(inches: float, printed_k: float) -> Callable[[], float]:
    found = [_section(rule, inches, "cooling_max_k") for rule in profile_ids()]
    return lambda: max(found, key=lambda k: abs(k - printed_k))


def _counts_from_c(rule: str) -> Callable[[], float]:
    """Coldest whole degree at which the days of a rule pass."""
    return lambda: float(
        next(
            c
            for c in range(-5, 25)
            if np.isfinite(days(rule, c, strength_fraction=1.0)())
        )
    )


def _hot() -> Iterator[Case]:
    rows: tuple[tuple[str, str, How, str, str, float, Callable[[], float], float], ...]
    rows = (
        ("peak-aci", _FAQ, "read", "mass concrete at most, 160 °F (70 °C)", "°C", 70.0,
         _figure("aci_318", "core_max_c"), 1.2),
        ("peak", "EN 13670:2009, 8.5", "from memory",
         "concrete at most, farthest of all rules", "°C", 70.0,
         _farthest(profile_ids(), "core_max_c", 70.0), 0.5),
        ("core-aci", _FAQ, "read", "core above face, mass concrete, 35 °F", "K",
         35 * _F_K, _figure("aci_318", "core_surface_max_k"), 0.5),
        ("core-aci-from", "ACI 301, mass concrete, 4 ft", "from memory",
         "mass concrete from", "mm", 4 * 304.8,
         _figure("aci_318", "core_surface_from_mm"), 30),
        ("core-german", _GERMAN, "read", "core above face, farthest of three rules",
         "K", 15.0, _farthest(_OF_GERMANY, "core_surface_max_k", 15.0), 0.1),
        ("core-german-from", "DAfStb guideline on massive members", "from memory",
         "massive members from, farthest of three rules", "mm", 800,
         _farthest(_OF_GERMANY, "core_surface_from_mm", 800.0), 1),
        ("massive-from", "DAfStb guideline on massive members", "from memory",
         "members whose heat stays", "mm", 800, lambda: MASSIVE_FROM_MM, 1),
        ("core-usual", "Go Chee Siang, IOP Conf. Ser. 217 (2017)", "read",
         "core above face of usual specifications, farthest of the other rules", "K",
         20.0, _farthest(_OTHERS, "core_surface_max_k", 20.0), 0.5),
        ("core-usual-from", "CIRIA C660, thick sections", "from memory",
         "thick from, farthest of the other rules", "mm", 500,
         _farthest(_OTHERS, "core_surface_from_mm", 500.0), 1),
        ("cooling-hour", "UFGS-03300N, page 37 (tpub copy)", "read",
         "cooling in any hour, 5 °F, farthest of all rules", "K", 5 * _F_K,
         _farthest(profile_ids(), "cooling_hour_max_k", 5 * _F_K), 0.1),
        ("frost", "betonhuis.nl, protection of young concrete", "read",
         "strength that stands freezing, farthest of the rules in MPa", "MPa", 5.0,
         _farthest(_IN_MPA, "freezing_strength_mpa", 5.0), 0.01),
        ("frost-us", "PCA, Design and Control, chapter 14 (copy)", "read",
         "500 psi, farthest of the American rules", "MPa", 500 * 0.006894757,
         _farthest(_OF_AMERICA, "freezing_strength_mpa", 3.45), 0.1),
    )  # fmt: skip
    for name, source, how, what, unit, printed, ours, tolerance in rows:
        yield Case(name, source, how, what, unit, printed, ours, tolerance)


def _cold() -> Iterator[Case]:
    for rule, counts_from_c, source, how in _COUNTS_FROM:
        yield Case(
            f"counts-from-{rule}", source, how, f"coldest day that counts, {rule}",
            "°C", counts_from_c, _counts_from_c(rule), 0.5,
        )  # fmt: skip
    for inches, least_f, most_f in _SECTIONS:
        yield Case(
            f"keep-{inches:g}in", "ACI 306R, Table 3.1", "from memory",
            f"kept at {least_f} °F or more, {inches:g} in thick", "°C",
            (least_f - 32) * _F_K, partial(_section, "aci_318", inches, "minimum_c"),
            0.6,
        )  # fmt: skip
        yield Case(
            f"drop-{inches:g}in", "ACI 306R, Table 3.1", "from memory",
            f"at most {most_f} °F in 24 h, {inches:g} in thick, farthest of all rules",
            "K", most_f * _F_K, _farthest_drop(inches, most_f * _F_K), 0.5,
        )  # fmt: skip


CASES = as_quoted((*_hot(), *_cold()))
