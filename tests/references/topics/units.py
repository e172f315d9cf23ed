"""Units that a site may write, beside the factors of scipy's constants."""

from collections.abc import Callable

from scipy import constants

from models.quantities import read_quantity
from tests.references.case import Case

_SCIPY = "scipy.constants"
_FT = constants.foot
#: One of it, the kind it is read as, what that is in the record's unit.
_ONES = (
    ("psi", "pressure", constants.psi / 1e6),
    ("mph", "speed", constants.mph),
    ("kn", "speed", constants.knot),
    ("km/h", "speed", constants.kmh),
    ("US gal", "volume", constants.gallon * 1000),
    ("imp gal", "volume", constants.gallon_imp * 1000),
    ("US gpm", "flow", constants.gallon * 1000),
    ("ft2", "area", _FT**2),
    ("yd2", "area", constants.yard**2),
    ("in", "thickness", constants.inch * 1000),
    ("lb/ft2/h", "evaporation", constants.pound / _FT**2),
    ("lb/yd3", "mass per volume", constants.pound / constants.yard**3),
    ("degF", "temperature difference", constants.degree_Fahrenheit),
)


def _read(text: str, kind: str) -> Callable[[], float]:
    return lambda: read_quantity(text, kind)


CASES = (
    *(
        Case(
            f"unit-{unit.replace(' ', '-')}", _SCIPY, "package", f"1 {unit}, {kind}",
            "-", of_record, _read(f"1 {unit}", kind), 1e-6, True,
        )
        for unit, kind, of_record in _ONES
    ),
    *(
        Case(
            f"unit-{fahrenheit}-f", _SCIPY, "package", f"{fahrenheit} °F", "°C",
            float(constants.convert_temperature(fahrenheit, "F", "C")),
            _read(f"{fahrenheit} degF", "temperature"), 1e-6,
        )
        for fahrenheit in (-4, 50, 95)
    ),
)  # fmt: skip
