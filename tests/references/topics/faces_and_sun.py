"""Sun on upright faces, the sky's share of it, and the film of a face in the wind."""

from functools import partial

import numpy as np

from models.drying.sun import diffuse_fraction, vertical_mean_w_m2
from models.hydration.face import convection_w_m2k
from tests.references.case import Case
from tests.references.packages import pvlib

#: Global irradiance [W/m²] and zenith [°], from overcast to clear, low to high sun.
_SUNS = (
    (100, 60), (300, 60), (450, 60), (200, 80), (600, 30), (850, 30), (950, 20),
    (60, 75), (700, 45),
)  # fmt: skip
#: A day on which the earth is at its mean distance, as we take it all year.
_DAY = 94
_MPH_IN_M_S = 0.44704
#: 1 Btu/(day in² °F) in W/(m² K): 1055.06 J/Btu, 645.16 mm²/in², 1.8.
_BTU_DAY_IN2_F = 1055.06 / 86400 / 645.16e-6 * 1.8
#: Read: 0.0513 V + 0.165 below 10.9 mph, 0.1132 V^0.8 above.
_FILMS = {
    0: 0.165,
    2: 0.2676,
    5: 0.4215,
    8: 0.5754,
    10: 0.678,
    15: 0.98800,
    20: 1.24369,
}


def _share(global_w_m2: float, zenith_deg: float) -> float:
    return float(diffuse_fraction(global_w_m2, zenith_deg))


def _face(global_w_m2: float, zenith_deg: float) -> float:
    return float(vertical_mean_w_m2(global_w_m2, zenith_deg))


def _their_share(global_w_m2: float, zenith_deg: float) -> float:
    found = pvlib.irradiance.erbs(global_w_m2, zenith_deg, _DAY)
    return float(found["dhi"]) / global_w_m2


def _their_face(global_w_m2: float, zenith_deg: float) -> float:
    """Mean over the compass, isotropic sky, ground of albedo 0.2."""
    found = pvlib.irradiance.erbs(global_w_m2, zenith_deg, _DAY)
    azimuths = np.arange(360.0)
    faces = pvlib.irradiance.get_total_irradiance(
        90, azimuths, zenith_deg, 180, found["dni"], global_w_m2, found["dhi"],
        albedo=0.2, model="isotropic",
    )  # fmt: skip
    return float(np.mean(faces["poa_global"]))


def _film(mph: float) -> float:
    return float(convection_w_m2k(mph * _MPH_IN_M_S))


CASES = (
    # Its solar constant is 1366, ours 1361 W/m².
    *(
        Case(
            f"erbs-{ground}-{zenith}", "pvlib, Erbs, Klein and Duffie (1982)",
            "package", f"sky's share of {ground} W/m², zenith {zenith}°", "-",
            _their_share(ground, zenith), partial(_share, ground, zenith), 0.01,
        )
        for ground, zenith in _SUNS
    ),
    *(
        Case(
            f"upright-{ground}-{zenith}", "pvlib, total irradiance", "package",
            f"upright face, mean of 360 azimuths, {ground} W/m², zenith {zenith}°",
            "W/m²", _their_face(ground, zenith), partial(_face, ground, zenith), 0.01,
            True,
        )
        for ground, zenith in _SUNS
    ),
    *(
        Case(
            f"film-{mph}-mph", "USACE ETL 1110-2-365 (1994), A-2 and A-3", "read",
            f"film of a face at {mph} mph", "W/(m² K)", film * _BTU_DAY_IN2_F,
            partial(_film, mph), 0.08, True,
        )
        for mph, film in _FILMS.items()
    ),
)  # fmt: skip
