"""Heat in whole members: when the core is hottest, and how much blends take off it."""

from collections.abc import Callable
from datetime import timedelta
from functools import cache, partial

import numpy as np

from models.drying.surroundings import surroundings
from models.hydration import clock
from models.records import Grid, Mix, SiteInput, Weather
from tests.builders import MONDAY, pour, site_input, surface, weather
from tests.references.case import Case
from tests.references.concretes import mix

_GERMAN = "Betontechnische Daten, 9.5, hottest core after d + 0.5 days"
_DAYS = 14
#: As still and even as a laboratory's hall.
_STILL = weather(hours=24 * (_DAYS + 3), mean_c=20.0, swing_k=0.0, wind_m_s=1.0)


def _shaded() -> Weather:
    hours = tuple(h.model_copy(update={"solar_w_m2": 0.0}) for h in _STILL.hours)
    return _STILL.model_copy(update={"hours": hours})


def _site(of: Mix) -> SiteInput:
    given = site_input()
    site = given.site.model_copy(
        update={"mixes": (of.model_copy(update={"id": "C30"}),)}
    )
    return given.model_copy(update={"site": site, "weather": _shaded()})


@cache
def _core(of: Mix, element: str, thickness_m: float) -> tuple[float, float]:
    """Hours after placing at which the core is hottest, and how hot it is [h, °C]."""
    grid = Grid(MONDAY, 10, _DAYS * 144)
    given = _site(of)
    member = pour(element=element, thickness_mm=1000 * thickness_m, exposure="indoors")
    struck_at = MONDAY + timedelta(days=_DAYS)
    top = surface(member)
    if element == "wall":
        top = surface(
            member, id="W-formed", face="formed", vertical=True, exposed_at=struck_at
        )
    history = clock.run([top], given, surroundings([top], given, grid), grid)
    core_c = history.core_temperature_c[:, 0]
    peak = int(np.nanargmax(core_c))
    after = grid.at(peak) - member.placing_ends_at
    return after.total_seconds() / 3600, float(core_c[peak])


def _peak_h(thickness_m: float) -> Callable[[], float]:
    return lambda: _core(mix(), "wall", thickness_m)[0]


def _lower_rise(element: str, thickness_m: float, slag: float) -> float:
    """By how much slag lowers the rise above 20 °C [%]."""
    plain, blend = (
        _core(mix(slag_fraction=share), element, thickness_m)[1] - 20
        for share in (0.0, slag)
    )
    return 100 * (1 - blend / plain)


def _cooler(thickness_m: float) -> float:
    return float(_lower_rise("wall", thickness_m, 0.5) > 0)


CASES = (
    *(
        Case(
            f"peak-{thickness:g}m", _GERMAN, "read",
            f"hours to the hottest core, wall of {thickness:g} m in forms", "h",
            24 * (thickness + 0.5), _peak_h(thickness), 0.35, True,
        )
        for thickness in (0.5, 1.0, 2.0, 3.0)
    ),
    # Suspended slab: 20 % off the peak with 50 % slag, no more with 70.
    Case(
        "slab-half-slag", "IJAMCE, floor slabs with GGBS (abstract)", "read",
        "peak of a slab with half slag lower by, of its rise, 20 % or more", "%", 20.0,
        lambda: min(20.0, _lower_rise("suspended_slab", 0.25, 0.5)), 1.0,
    ),
    # Blends are cooler in rate and in the end at ordinary placing temperatures.
    *(
        Case(
            f"cooler-{thickness:g}m", "CIRIA C660, A1.4.1 (page read)", "read",
            f"rise of half slag lower than plain, {thickness:g} m thick: 1 if so", "-",
            1.0, partial(_cooler, thickness), 0.0,
        )
        for thickness in (0.5, 1.0, 3.0)
    ),
    # As hot as 80 °C and more in large pours: 480 kg/m³ of rapid cement.
    Case(
        "large-pour", "M. Thomas, Supplementary Cementing Materials, ch. 9 (abstract)",
        "read", "core of 3 m of 480 kg/m³, rapid, from 20 °C: 80 or more", "°C", 80.0,
        lambda: min(
            80.0, _core(mix(cement_kg_m3=480, cement_class="R"), "wall", 3.0)[1]
        ),
        2.0,
    ),
)  # fmt: skip
