"""Equivalent age: a package, figures of practice, and our own equations again."""

from collections.abc import Callable

import numpy as np
from structuralcodes.codes import (
    ec2_2004,
    mc2010,
)

from models.drying.ranges import Floats
from models.hydration.binder import Shares, strength_energy_j_mol
from models.hydration.equivalent_age import (
    age_at_starts_h,
    arrhenius_rate,
    arrhenius_variable_rate,
    eurocode_rate,
    nurse_saul_rate,
    share_in_frost,
)
from models.hydration.setting import setting_rate
from tests.references.case import Case

_FHP = "Freiesleben Hansen and Pedersen (1977)"
_C1074 = "ASTM C1074, Arrhenius, 40 kJ/mol"
_SAUL = "Saul (1951), datum -10 °C"


def _at(rate: Callable[[Floats], Floats], temperature_c: float) -> Callable[[], float]:
    return lambda: float(rate(np.array(temperature_c)))


def _history(rate: Callable[[Floats], Floats]) -> Callable[[], float]:
    """6 h at 10, 6 h at 15, 12 h at 25, 24 h at 30, 24 h at 20 °C."""
    hourly_c = np.repeat([10.0, 15.0, 25.0, 30.0, 20.0, 20.0], [6, 6, 12, 24, 24, 1])
    return lambda: float(age_at_starts_h(rate(hourly_c), 1.0)[-1])


def _steam(rate: Callable[[Floats], Floats]) -> Callable[[], float]:
    """4 h at 20, 2 h up to 60, 8 h there, 2 h down to 20 °C; in steps of 0.01 h."""
    middle_h = np.arange(0.005, 16, 0.01)
    warm_c = np.interp(middle_h, [0, 4, 6, 14, 16], [20, 20, 60, 60, 20])
    return lambda: float(rate(warm_c).sum() * 0.01)


def _ratio(
    rate: Callable[[Floats], Floats], warm_c: float, cold_c: float
) -> Callable[[], float]:
    return lambda: float(rate(np.array(warm_c)) / rate(np.array(cold_c)))


def _setting(temperature_c: Floats) -> Floats:
    return setting_rate(temperature_c, 40_000.0)


def _of_slag(temperature_c: Floats) -> Floats:
    return arrhenius_rate(temperature_c, strength_energy_j_mol(Shares(slag=0.7)))


def _packaged(code: object, temperature_c: float) -> float:
    return float(np.squeeze(code.t_T(temperature_c, 1.0)))  # type: ignore[attr-defined]  # a module


CASES = (
    # Garboczi and Bentz on cement 152, by chemical shrinkage: 45.5 kJ/mol, 3.3 times.
    Case(
        "nist-40c", "Garboczi and Bentz, NIST, ACS 2005", "read",
        "rate at 40 °C over that at 20 °C, 45.5 kJ/mol", "-", 3.3,
        lambda: float(arrhenius_rate(40.0, 45_500.0)), 0.05,
    ),
    Case(
        "rastrup-12k", "Rastrup's function (engineeringcivil.com)", "read",
        "rate 12 K above 20 °C over that at 20 °C", "-", 2.0,
        _ratio(arrhenius_rate, 32, 20), 0.10, True,
    ),
    *(
        Case(
            f"holcim-5c-{name}", "Holcim Germany, concreting in the cold", "read",
            f"rate at 5 °C over that at 20 °C, {name}", "-", 0.5,
            _ratio(rate, 5, 20), tolerance, True,
        )
        for name, rate, tolerance in (
            ("Eurocode", eurocode_rate, 0.05), ("40 kJ/mol", arrhenius_rate, 0.20),
        )
    ),
    *(
        Case(
            f"stops-{name}", "Baunetz Wissen, Beton", "read",
            f"rate at -10 °C, where hardening has stopped, {name}", "-", 0.0,
            _ratio(rate, -10, 20), 1e-9,
        )
        for name, rate in (
            ("setting", _setting), ("Saul", nurse_saul_rate),
            ("frost", share_in_frost),
        )
    ),
    # 20 °F colder doubles the time, from 73 °F.
    Case(
        "doubles-20f", "a trade page on setting", "read",
        "time to set 20 °F below 73 °F over that at 73 °F", "-", 2.0,
        _ratio(_setting, 22.8, 11.7), 0.10, True,
    ),
    # Straight from 0 °C to -10 °C, as Saul has it.
    Case(
        "frost-saul", "Saul (1951), datum -10 °C", "from memory",
        "rate at -5 °C over that at 0 °C", "-", 0.5, lambda: float(
            share_in_frost(np.array(-5.0)) / share_in_frost(np.array(0.0))
        ), 0.01,
    ),
    # A table of these years prints two digits.
    *(
        Case(
            f"fhp-table-{t}c", _FHP, "from memory", f"printed rate at {t} °C", "-",
            printed, _at(arrhenius_variable_rate, t), 0.015,
        )
        for t, printed in ((0, 0.15), (10, 0.50), (30, 1.57), (40, 2.41))
    ),
    # 34 kJ/mol plain to about 60 at 70 % slag, linear: by the rate at 10 °C.
    Case(
        "barnett-70-slag", "Barnett et al., CCR 36 (2006), abstract", "read",
        "rate at 10 °C over that at 20 °C, 70 % slag, 60 kJ/mol", "-",
        float(np.exp(-60_000 / 8.314 * (1 / 283.15 - 1 / 293.15))),
        _ratio(_of_slag, 10, 20), 0.02, quoted=True,
    ),
    # The best datum of three for 0 to 40 % slag at 5 to 35 °C was -3 °C: hours at 5 °C
    # are worth (5 + 3)/(20 + 3) of those at 20 °C.
    *(
        Case(
            f"datum-3-{name}", "Materials 18 (2025) 4525, abstract", "read",
            f"rate at 5 °C over that at 20 °C, datum -3 °C, {name}", "-", 8 / 23,
            _ratio(rate, 5, 20), tolerance,
        )
        for name, rate, tolerance in (
            ("plain", arrhenius_rate, 0.07), ("70 % slag", _of_slag, 0.09),
        )
    ),
    *(
        Case(
            f"{name}-{t}c", f"{source}, structuralcodes", "package",
            f"equivalent age of a day at {t} °C", "d",
            _packaged(code, t), _at(eurocode_rate, t), 1e-9, True,
        )
        for name, source, code in (
            ("ec2", "EN 1992-1-1:2004, B.10", ec2_2004),
            ("mc2010", "Model Code 2010, 5.1-85", mc2010),
        )
        for t in (0, 5, 10, 20, 30, 45, 60, 80)
    ),
    *(
        Case(
            f"{name}-{t}c", source, "regression", f"rate at {t} °C over that at 20 °C",
            "-", expected, _at(rate, t), tolerance,
        )
        for name, source, rate, tolerance, values in (
            ("fhp", _FHP, arrhenius_variable_rate, 1e-4,
             {0: 0.1511, 5: 0.2925, 10: 0.4974, 15: 0.7476, 30: 1.5737, 40: 2.4057,
              60: 5.2086}),
            ("arrhenius", _C1074, arrhenius_rate, 1e-4,
             {0: 0.3007, 5: 0.4127, 10: 0.5601, 15: 0.7522, 30: 1.7184, 40: 2.8525,
              60: 7.1744}),
            ("saul", _SAUL, nurse_saul_rate, 5e-4,
             {0: 0.333, 5: 0.5, 10: 0.667, 30: 1.333, 40: 1.667, 60: 2.333}),
        )
        for t, expected in values.items()
    ),
    *(
        Case(
            f"history-{name}", source, "regression",
            "age of a history of 72 h from 10 to 30 °C", "h", expected,
            _history(rate), 0.01,
        )
        for name, source, rate, expected in (
            ("saul", _SAUL, nurse_saul_rate, 79.0),
            ("ec2", "EN 1992-1-1:2004, B.10", eurocode_rate, 85.03),
            ("fhp", _FHP, arrhenius_variable_rate, 84.35),
            ("arrhenius", _C1074, arrhenius_rate, 88.92),
        )
    ),
    *(
        Case(
            f"steam-{name}", source, "regression",
            "age of 16 h of steam curing at up to 60 °C", "h", expected,
            _steam(rate), 0.01,
        )
        for name, source, rate, expected in (
            ("saul", _SAUL, nurse_saul_rate, 29.33),
            ("ec2", "EN 1992-1-1:2004, B.10", eurocode_rate, 55.61),
        )
    ),
)  # fmt: skip
