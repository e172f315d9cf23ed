"""Curves of strength and heat that a mix brings along, from the site folder on."""

from datetime import timedelta
from pathlib import Path

import numpy as np
import pytest

from models.records import EventWindow
from scheduler.clocked import Clocked, run_clocks
from tests.models.files.folders import POURS, SITE, changed, write_site

#: Curing is over at 20 MPa, two thirds of the sample's C30; age by hours over -10 °C.
RULE = """\
id = "two_thirds"
title = "Two thirds of the strength"
edition = "own"
maturity = "nurse_saul"
datum_c = -10

[[ends]]
kind = "strength"
strength_mpa = 20
"""


def clocked(path: Path, mix: str, **files: str) -> Clocked:
    site = changed(SITE, ("en13670_class3", "two_thirds"), ("cement = 340", mix))
    folder: dict[str, str | bytes | None] = {
        "site.toml": site,
        "profiles/two_thirds.toml": RULE,
        "readings.csv": None,
    }
    return run_clocks(write_site(path, {**folder, **files}))


def age_at_end_h(found: Clocked, surface_id: str = "Q1-top") -> tuple[float, float]:
    """Equivalent age of the step before curing ends, and of that at which it has."""
    history = found.hydration
    column = history.surface_ids.index(surface_id)
    end = history.events[column].curing_ends
    assert isinstance(end, EventWindow)
    step = history.grid.step(end.expected_at)
    before, after = history.equivalent_age_h[step - 2 : step, column]
    return float(before), float(after)


# Each age worked by hand from its formula, for 20 MPa of 30.
@pytest.mark.parametrize(
    ("curve", "age_h"),
    [
        # Straight between 24 h, 8 MPa and 72 h, 23 MPa: 24 + 48 × 12/15.
        ('strength_by_age = [["1 d", "8 MPa"], ["3 d", "23 MPa"]]', 62.4),
        # 24 + 48 × (2/3 - 0.3)/(0.7 - 0.3).
        ('strength_share_by_age = [[0, 0], [24, "30 %"], [72, "70 %"]]', 68.0),
        # ACI 209R-92, Eq. 2-1, a = 4 d, b = 0.85: 2/3 × 4/(1 - 2/3 × 0.85) = 6.1538 d.
        ('aci_209 = "I moist"', 147.692),
        # a = 2.3 d, b = 0.92: 2/3 × 2.3/(1 - 2/3 × 0.92) = 3.9655 d.
        ('aci_209 = "III_moist"', 95.172),
        # ASTM C1074's hyperbola: k (t - t0) = 20/(40 - 20) = 1, so t = 8 + 1/0.02.
        ('ultimate_strength = "40 MPa"\nstrength_rate = "0.48 1/d"\n'
         'strength_begins = 8', 58.0),
        # Eurocode, class N, s = 0.25: 28/(1 + 4 ln 1.5)² = 28/6.8741 = 4.0732 d.
        ("", 97.758),
    ],
)  # fmt: skip
def test_curing_ends_at_the_age_the_mix_s_own_curve_gives(
    tmp_path: Path, curve: str, age_h: float
) -> None:
    before_h, after_h = age_at_end_h(clocked(tmp_path, f"cement = 340\n{curve}"))
    assert before_h < age_h <= after_h + 1e-3


#: By the clock, from 20 °C; invented, the shape of an ordinary concrete's.
RISE = [(0, 0), (6, 2), (12, 14), (24, 31), (48, 40), (96, 44)]


def test_the_middle_of_a_thick_wall_warms_as_the_adiabatic_test_did(
    tmp_path: Path,
) -> None:
    # Through 2.5 m to the nearer face warmth takes weeks: within four days the middle
    # is adiabatic. Placed at the temperature of the test it repeats the test.
    pairs = ", ".join(f'["{h} h", {k}]' for h, k in RISE)
    mix = f'cement = 340\nadiabatic_rise = [{pairs}]\nadiabatic_start = "68 degF"'
    # Out of the sun, which would make other concrete the warmest.
    columns = ",wetted_at,placing_temperature,exposure\n"
    pours = changed(POURS, (",wetted_at\n", columns))
    pours = pours.replace(",6,400,90,2027-05-03 09:00", ",6,5000,90,2027-05-09 09:00")
    pours = pours.replace(",2,,\n", ",2,,,,\n").replace(",3,,\n", ",3,,,,\n")
    pours = pours.replace("2027-05-02 18:00\n", "2027-05-02 18:00,20,indoors\n")
    found = clocked(tmp_path, mix, **{"pours.csv": pours})
    history = found.hydration
    column = history.surface_ids.index("W1-faces")
    placed_at = found.surfaces[column].placing_ends_at
    for hours, rise_k in RISE[1:]:
        step = history.grid.step(placed_at + timedelta(hours=hours))
        core_c = history.core_temperature_c[step, column]
        # Half a kelvin: heat is given off by the hour, and 2 K an hour is the most.
        assert core_c == pytest.approx(20 + rise_k, abs=0.5), hours


def test_another_start_of_the_test_is_another_heat(tmp_path: Path) -> None:
    pairs = "adiabatic_rise = [[12, 14], [24, 31], [48, 40]]"
    mixes = [f"cement = 340\n{pairs}\nadiabatic_start = {c}" for c in (12, 28)]
    cold, warm = (
        clocked(tmp_path / str(i), mix).hydration for i, mix in enumerate(mixes)
    )
    column = cold.surface_ids.index("Q1-top")
    # What rose so fast from a cold start comes faster still in this warmer concrete.
    peaks = [np.nanmax(h.core_temperature_c[:, column]) for h in (cold, warm)]
    assert peaks[0] > peaks[1] + 1
