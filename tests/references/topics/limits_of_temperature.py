"""How hot, uneven or cold concrete may be by rules, and from when their days count."""

from collections.abc import Callable, Iterator

import numpy as np

from models.hydration.course import MASSIVE_FROM_MM
from models.profiles.loader import builtin_profile
from tests.references.case import Case, How, as_quoted
from tests.references.periods import days

_FAQ = "ACI FAQ 889, on ACI 301-20"
_GERMAN = "Betontechnische Daten, massive members"
_F_K = 5 / 9
#: Rules that take the limit of EN 13670 for want of one of their own.
_PEAKS_OF_EN = (
    "en13670_class1", "en13670_class2", "en13670_class3", "en13670_class4",
    "din1045_3", "ztv_ing", "bs8110", "is456", "as3600_b1", "csa_a23_1_extended",
    "aashto_deck", "ufgs_03301a",
)  # fmt: skip
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
#: ACI 306R, Table 3.1: thickness just below a limit [in], least °F, most in 24 h [°F].
_SECTIONS = ((11.5, 55, 50), (35, 50, 40), (70, 45, 30), (73, 40, 20))


def _figure(rule: str, name: str) -> Callable[[], float]:
    return lambda: float(getattr(builtin_profile(rule), name))


def _section(rule: str, inches: float, name: str) -> Callable[[], float]:
    section = builtin_profile(rule).section(25.4 * inches)
    return lambda: float(getattr(section, name))


def _counts_from_c(rule: str) -> Callable[[], float]:
    """Coldest whole degree at which the days of a rule pass."""
    return lambda: float(
        next(
            c
            for c in range(-5, 25)
            if np.isfinite(days(rule, c, strength_fraction=1.0)())
        )
    )


def _peaks() -> Iterator[Case]:
    yield Case(
        "peak-aci", _FAQ, "read", "mass concrete at most, 160 °F (70 °C)", "°C", 70.0,
        _figure("aci_318", "core_max_c"), 1.2,
    )  # fmt: skip
    for rule in _PEAKS_OF_EN:
        yield Case(
            f"peak-{rule}", "EN 13670:2009, 8.5", "from memory",
            f"concrete at most, by {rule}", "°C", 70.0, _figure(rule, "core_max_c"),
            0.5,
        )  # fmt: skip


def _cores() -> Iterator[Case]:
    yield Case(
        "core-aci", _FAQ, "read", "core above face, mass concrete, 35 °F", "K",
        35 * _F_K, _figure("aci_318", "core_surface_max_k"), 0.5,
    )  # fmt: skip
    yield Case(
        "core-aci-from", "ACI 301, mass concrete, 4 ft", "from memory",
        "mass concrete from", "mm", 4 * 304.8,
        _figure("aci_318", "core_surface_from_mm"), 30,
    )  # fmt: skip
    for rule in ("din1045_3", "din1045_3_dry", "ztv_ing"):
        yield Case(
            f"core-{rule}", _GERMAN, "read", f"core above face, by {rule}", "K", 15.0,
            _figure(rule, "core_surface_max_k"), 0.1,
        )  # fmt: skip
    yield Case(
        "core-din-from", "DAfStb guideline on massive members", "from memory",
        "massive members from", "mm", 800, _figure("din1045_3", "core_surface_from_mm"),
        1,
    )  # fmt: skip
    yield Case(
        "massive-from", "DAfStb guideline on massive members", "from memory",
        "members whose heat stays", "mm", 800, lambda: MASSIVE_FROM_MM, 1,
    )  # fmt: skip
    # "20 °C differential of technical specifications", "28 K of granite": 15 to 28.
    for rule in ("en13670_class3", "bs8110", "is456", "as3600_b1"):
        yield Case(
            f"core-{rule}", "Go Chee Siang, IOP Conf. Ser. 217 (2017)", "read",
            f"core above face of usual specifications, by {rule}", "K", 20.0,
            _figure(rule, "core_surface_max_k"), 0.5,
        )  # fmt: skip


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
            (least_f - 32) * _F_K, _section("aci_318", inches, "minimum_c"), 0.6,
        )  # fmt: skip
        yield Case(
            f"drop-{inches:g}in", "ACI 306R, Table 3.1", "from memory",
            f"at most {most_f} °F in 24 h, {inches:g} in thick", "K", most_f * _F_K,
            _section("aci_318", inches, "cooling_max_k"), 0.5,
        )  # fmt: skip


CASES = as_quoted((*_peaks(), *_cores(), *_cold()))
