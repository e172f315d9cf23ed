"""Figures of practice beside those that specifications and papers print.

A range is told by its middle and half its width.
"""

from collections.abc import Callable, Iterator

import iapws
import pandas as pd

from models.drying.covers import cover_properties
from scheduler.methods.case.figures import table
from tests.references.case import Case, How, as_quoted
from tests.references.penman import penman_mm_d

_UFGS_43 = "UFGS-03301A, page 43 (tpub copy)"
_CC = "Concrete Construction, questions and answers"
_F_K = 5 / 9


def _typical(method: str, name: str) -> Callable[[], float]:
    return lambda: table()[method][name]


def _most(method: str, name: str) -> Callable[[], float]:
    return lambda: table()[method].by_name[name].high


def _least(method: str, name: str) -> Callable[[], float]:
    return lambda: table()[method].by_name[name].low


def _saturated_bar(temperature_c: float) -> float:
    """Pressure of saturated steam over that of the air. [bar]."""
    return float(iapws.IAPWS97(T=temperature_c + 273.15, x=1).P) * 10 - 1.01325


def _penman_mm_d(
    air_c: float, humidity_pct: float, wind_m_s: float, sun_mj_m2: float
) -> float:
    day = pd.DatetimeIndex(["2027-07-06"])
    series = {"tmean": air_c, "wind": wind_m_s, "rs": sun_mj_m2, "rh": humidity_pct}
    return float(penman_mm_d(pd.DataFrame(series, index=day), 51.6, 0, 0.25)[0])


def _figures() -> Iterator[Case]:
    rows: tuple[
        tuple[str, str, How, str, str, float, Callable[[], float], float], ...
    ] = (
        ("coat", _UFGS_43, "read", "each of two coats, 10 m² a litre", "L/m²", 0.1,
         _typical("compound_clear", "coat_dose"), 0.001),
        ("coats", _UFGS_43, "read", "coats", "-", 2,
         _typical("compound_clear", "coats"), 0.01),
        ("coats-together", "UFGS-03300N, page 44 (tpub copy)", "read",
         "two coats together, 5 m² a litre", "L/m²", 0.2,
         lambda: 2 * table()["compound_white"]["coat_dose"], 0.001),
        ("one-coat", "UFGS-03900, page 26 (tpub copy)", "read",
         "one coat, 20 m² per 3.8 L", "L/m²", 3.8 / 20,
         _least("compound_clear", "single_coat_dose"), 0.005),
        # 1 gal on 150 ft².
        ("one-coat-federal", "an older US federal specification (Google Books)",
         "read", "one coat, 1 gal on 150 ft²", "L/m²", 3.785 / (150 * 0.0929),
         _most("compound_clear", "single_coat_dose"), 0.005),
        ("one-coat-c309", "NCHRP Synthesis 2023, appendix C, on AASHTO M 148", "read",
         "one coat, 200 ft² a gallon", "L/m²", 3.785 / (200 * 0.0929),
         _typical("compound_white", "single_coat_dose"), 0.04),
        ("rain-watch", _UFGS_43, "read", "rain so soon: spray again", "h", 3,
         _typical("compound_clear", "rain_watch"), 0.01),
        ("shade", _UFGS_43, "read", "clear compound shaded from 90 °F on", "°C",
         58 * _F_K, _typical("compound_clear", "shade_from"), 0.3),
        ("sand", "UFGS-03301A, page 42 (tpub copy)", "read", "sand cover, 2 in", "mm",
         50.8, _typical("wet_sand", "depth"), 1),
        ("fog-nozzle", f"{_CC}, fog spray", "read", "a nozzle, 0.5 gal/min", "L/min",
         0.5 * 3.785, _typical("fogging", "nozzle_flow"), 0.02),
        ("blankets-off", f"{_CC}, cold-weather protection", "read",
         "face within 20 °F of the air", "K", 20 * _F_K,
         _typical("insulated_blankets", "above_air"), 0.2),
        ("blankets-drop", f"{_CC}, cold-weather protection", "read",
         "50 °F in 24 h", "K", 50 * _F_K, _typical("insulated_blankets", "drop"), 0.3),
        ("cold-water", "UFGS-03300N, page 44 (tpub copy)", "read",
         "water 20 °F colder", "K", 20 * _F_K, _typical("all", "cold_water"), 0.2),
        ("cold-water-textbook", "a masonry handbook (flipbuilder copy)", "read",
         "water 5 K colder, the strictest", "K", 5, _least("all", "cold_water"), 0.1),
        ("bridge", "CPWD commentary 5.4.6 (scribd copy)", "read",
         "ponding from so long after laying", "h", 24,
         _typical("ponding", "bridge"), 0.1),
        # 50 mm of water: 0.05 × 9.81.
        ("pond-load", "statics", "analytic", "50 mm of water", "kN/m²", 0.4905,
         _typical("ponding", "load_per_50mm"), 0.01),
        # What a pond is topped up by in a day, its leaks taken off.
        ("top-up", "pyet, Penman (1948)", "package",
         "a day of a pond at 22 °C, 60 %, 2 m/s", "mm", _penman_mm_d(22, 60, 2, 20),
         lambda: table()["ponding"]["top_up_dose"]
         - cover_properties("pond").leak_mm_d, 4),
        # Of what they give, what the hottest day takes: all of it is 1.
        ("sprinklers", "pyet, Penman (1948)", "package",
         "a day's water over a day at 40 °C, 15 %, 5 m/s, 1 at most", "-", 1.0,
         lambda: min(
             1.0, table()["sprinklers"]["dose_a_day"] / _penman_mm_d(40, 15, 5, 28)
         ), 0.01),
        ("head", "a garden supplier's table", "read", "impact head, 11 to 19 L/min",
         "L/min", 15, _typical("sprinklers", "head_flow"), 4),
        ("rain-8h", "trade answers on rain", "read",
         "set hard enough for rain, 4 to 8 h", "h", 6,
         _typical("all", "rain_on_fresh"), 2),
        ("rain-12h", "trade answers on rain", "read", "rain does nothing", "h", 12,
         _most("all", "rain_on_fresh"), 0.1),
        # Steam: delay 3 to 5 h, rise 22 K/h after 5 h and 11 K/h after 1 h.
        ("steam-delay", "PCI manual, C4.19 (copy)", "read", "preset, 3 to 8 h", "h",
         5.5, _typical("live_steam", "delay"), 2.5),
        ("steam-delay-best", "Hanson, ACI Journal 60 (1963), abstract", "read",
         "best delay", "h", 5, _most("live_steam", "delay"), 0.1),
        ("steam-delay-india", "a study of 4 h, 60 °C and 8 h (abstract)", "read",
         "best delay", "h", 4, _typical("live_steam", "delay"), 0.1),
        ("steam-rise", "Hanson, ACI Journal 60 (1963), abstract", "read",
         "40 °F an hour after 5 h", "K/h", 40 * _F_K, _most("live_steam", "rise"), 0.5),
        ("steam-rise-early", "Hanson, ACI Journal 60 (1963), abstract", "read",
         "20 °F an hour after 1 h", "K/h", 20 * _F_K, _least("live_steam", "rise"),
         0.5),
        ("steam-rise-blocks", "a trade note on steam for blocks", "read",
         "at most so fast", "K/h", 15, _typical("live_steam", "rise"), 0.1),
        ("steam-hold-india", "a study of 4 h, 60 °C and 8 h (abstract)", "read",
         "best hold", "°C", 60, _typical("live_steam", "hold"), 1),
        # Little is gained from 60 to 70 °C, where delayed ettringite begins.
        ("steam-hold-most", "a trade page on steam", "read",
         "little is gained above", "°C", 60, _most("live_steam", "hold"), 5),
        ("steam-time", "a study of 4 h, 60 °C and 8 h (abstract)", "read",
         "best time", "h", 8, _typical("live_steam", "hold_time"), 0.1),
        ("steam-time-poles", "Ahmed and Elnore, University of Khartoum", "read",
         "time for poles", "h", 4, _least("live_steam", "hold_time"), 0.1),
        ("steam-fall", "a trade note on steam for blocks", "read",
         "cooling at most", "K/h", 10, _most("live_steam", "fall"), 0.1),
        # Summaries print 163 to 191 °C.
        ("autoclave-least", "iapws, saturated steam", "package",
         "pressure at 163 °C", "bar", _saturated_bar(163),
         _least("autoclave", "pressure"), 0.3),
        ("autoclave-most", "iapws, saturated steam", "package",
         "pressure at 191 °C", "bar", _saturated_bar(191),
         _most("autoclave", "pressure"), 0.3),
        ("autoclave", "iapws, saturated steam", "package", "pressure at 175 °C", "bar",
         _saturated_bar(175), _typical("autoclave", "pressure"), 0.3),
    )  # fmt: skip
    return (
        Case(f"practice-{name}", source, how, what, unit, printed, ours, tolerance)
        for name, source, how, what, unit, printed, ours, tolerance in rows
    )


CASES = as_quoted(_figures())
