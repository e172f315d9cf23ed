"""A curing compound's loss, from the limit of its test class."""

import numpy as np

from models.drying.evaporation import menzel_rate_kg_m2_h
from models.drying.ranges import Floats, Numbers, in_range

#: The test of ASTM C309 as read: 100 °F and 32 % relative humidity.
_TEST_AIR_C = 37.8
_TEST_HUMIDITY_FRACTION = 0.32


def compound_factor(loss_kg_m2: Numbers, test_h: Numbers) -> Floats:
    r"""Loss through a compound as a share of that of open water.

    Parameters
    ----------
    loss_kg_m2 : float or array
        Greatest loss the class allows, 0 to 2. [kg/m²]
    test_h : float or array
        Length of the test, 1 to 1000. [h]

    Returns
    -------
    array
        Evaporation factor of a cover. [-]

    Raises
    ------
    OutOfRangeError
        If an input lies outside its range.

    Notes
    -----
    A constant rate over the test, :math:`w/t`, over Menzel's for open water in the air
    of the test. The true loss falls, nearly with the square root of time, so the
    mean understates the first hours, when the concrete has water to spare. Still air is
    taken, because the wind in the cabinet is not known: any wind makes the factor
    smaller.
    """
    source = "a compound's test class"
    loss = in_range("loss_kg_m2", loss_kg_m2, 0, 2, "kg/m²", source)
    hours = in_range("test_h", test_h, 1, 1000, "h", source)
    still = menzel_rate_kg_m2_h(_TEST_AIR_C, _TEST_AIR_C, _TEST_HUMIDITY_FRACTION, 0)
    return np.asarray(loss / hours / still)
