"""What standards say of covers, and a whole day's loss against Penman."""

from collections.abc import Callable
from functools import partial

import pandas as pd
import psychrolib

from models.drying.air import dew_point_c
from models.drying.cover import cover_loss_kg_m2_h
from models.drying.covers import cover_properties
from models.drying.film import (
    film_kg_m2_h_kpa,
    seams_m_m2,
    vapour_resistance_m2h_kpa_kg,
)
from models.drying.sky import sky_temperature_c
from models.drying.wind import wind_at_half_metre_m_s
from models.records import CoverKind
from tests.references.case import Case, How
from tests.references.cover_table import burlap_dry_mass_g_m2
from tests.references.penman import penman_mm_d

_OZ_YD2_IN_G_M2 = 28.349523125 / 0.9144**2
# AASHTO M 182-91 (2000), table 1, read in a copy: it prints both units, one decimal.
_M182_OZ_YD2 = {1: 6.7, 2: 7.2, 3: 9.0, 4: 10.8}

# A steady day: 25 °C, 50 %, 2 m/s at 2 m, 22 MJ/m² of sun; albedo as Penman's 0.23.
_AIR_C, _HUMIDITY, _WIND_M_S, _SUN_MJ_M2 = 25.0, 0.5, 2.0, 22.0


def _seams_m(wide_m: float, long_m: float) -> float:
    return seams_m_m2(wide_m * long_m) * wide_m * long_m


def _dry_mass(m182_class: int) -> Callable[[], float]:
    return lambda: burlap_dry_mass_g_m2(m182_class)


def _lost_in_test(kind: CoverKind) -> Callable[[], float]:
    """72 h in the air of the test, where everything has one temperature."""
    film = cover_properties(kind).film_kg_m2_h_kpa or 0.0
    to_vapour = vapour_resistance_m2h_kpa_kg(film, 0.0, 0.0)

    def ours() -> float:
        rate = cover_loss_kg_m2_h(
            37.8, 37.8, 0.32, 0, 0, 37.8, 0, 0, 1, to_vapour, 101.3
        )
        return 72 * float(rate)

    return ours


def _tested_kg_m2_h_kpa() -> float:
    """0.55 kg/m² in 72 h at 100 °F and 32 %; the air over the film resists little."""
    psychrolib.SetUnitSystem(psychrolib.SI)
    short_kpa = psychrolib.GetSatVapPres(37.8) / 1000 * (1 - 0.32)
    return float(0.55 / 72 / short_kpa)


def _film(kind: CoverKind) -> Callable[[], float]:
    return lambda: float(cover_properties(kind).film_kg_m2_h_kpa or 0.0)


#: Kinds whose limit is that of the test, by ASTM C171 (from memory) or C309 (read).
_FILMS: tuple[tuple[CoverKind, str, How], ...] = (
    ("compound_clear", "ASTM C309", "read"), ("compound_white", "ASTM C309", "read"),
    ("plastic_sheet", "ASTM C171", "from memory"),
    ("plastic_sheet_black", "ASTM C171", "from memory"),
    ("plastic_sheet_clear", "ASTM C171", "from memory"),
    ("sheet_over_burlap", "ASTM C171", "from memory"),
    ("impervious_paper", "ASTM C171", "from memory"),
)  # fmt: skip


def _penman_mm_d() -> float:
    day = pd.DatetimeIndex(["2027-07-06"])
    series = {
        "tmean": _AIR_C, "wind": _WIND_M_S, "rs": _SUN_MJ_M2, "rh": 100 * _HUMIDITY
    }  # fmt: skip
    return float(penman_mm_d(pd.DataFrame(series, index=day), 51.6, 0, 0.23)[0])


def _ours_mm_d() -> float:
    sky_c = sky_temperature_c(_AIR_C, dew_point_c(_AIR_C, _HUMIDITY), 0.2)
    return 24 * float(
        cover_loss_kg_m2_h(
            _AIR_C, _AIR_C, _HUMIDITY, wind_at_half_metre_m_s(_WIND_M_S, 2, 10),
            _SUN_MJ_M2 * 1e6 / 86400, sky_c, 5.0, 0.77, 0.9, 0.0, 101.3,
        )
    )  # fmt: skip


CASES = (
    *(
        Case(
            f"burlap-class-{number}", "AASHTO M 182-91 (2000), table 1", "read",
            f"dry mass of burlap, class {number}", "g/m²", ounces * _OZ_YD2_IN_G_M2,
            _dry_mass(number), 0.01, True, quoted=True,
        )
        for number, ounces in _M182_OZ_YD2.items()
    ),
    # The film was made from this figure.
    Case(
        "c309-clear", "ASTM C309, loss in 72 h", "regression",
        "clear compound in the air of the test, no wind", "kg/m²", 0.55,
        _lost_in_test("compound_clear"), 0.03,
    ),
    Case(
        "c309-white", "ASTM C309, loss in 72 h", "regression",
        "white compound in the air of the test, no wind", "kg/m²", 0.55,
        _lost_in_test("compound_white"), 0.03,
    ),
    *(
        Case(
            f"film-{kind}", f"{source}, vapour pressure by psychrolib", how,
            f"vapour through {kind.replace('_', ' ')}", "kg/(m² h kPa)",
            _tested_kg_m2_h_kpa(), _film(kind), 0.03, True, quoted=True,
        )
        for kind, source, how in _FILMS
    ),
    Case(
        "film-of-class", "ASTM C309, vapour pressure by psychrolib", "read",
        "vapour through a film of this class", "kg/(m² h kPa)", _tested_kg_m2_h_kpa(),
        lambda: float(film_kg_m2_h_kpa(0.55, 72)), 0.03, True,
    ),
    # Rolls of 4 m (a trade page): 12 × 24 m are three of them with two laps of 24 m,
    # and 72 m of edge; 6 × 12 m have half a lap.
    *(
        Case(
            f"seams-{wide}x{long}", "rolls of 4 m, counted on a drawing", "analytic",
            f"edges and laps of {wide} m × {long} m", "m", metres,
            partial(_seams_m, wide, long), 0.01,
        )
        for wide, long, metres in ((12, 24, 120), (6, 12, 42), (4, 8, 24))
    ),
    # Other wind function, other sky; whole years stand in a topic of their own.
    Case(
        "penman-day", "pyet, Penman (1948)", "package",
        "a day's loss of a wet cover not heated from below", "mm/d", _penman_mm_d(),
        _ours_mm_d, 0.2, True,
    ),
)  # fmt: skip
