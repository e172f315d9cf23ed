"""How far the drying clock itself may be off, were the forecast right to the degree.

To draw beside the spread of the forecast; nothing is planned by it.
"""

from models.records import CoverProperties

#: Evaporation is estimated to about this share either way: K. C. Hover, ACI SP-338,
#: 2020 (abstract read), of the wind function that bare faces and covers dry by.
EVAPORATION_FRACTION = 0.4
#: Water that covers hold, as shares of the default: assumptions, from burlap that holds
#: one to two times its dry mass when drained where the default is four thirds of it.
HELD_FRACTIONS = (0.75, 1.5)
SOURCE = (
    "evaporation ±40 % (K. C. Hover, ACI SP-338, 2020, abstract read), and covers that "
    "hold 0.75 to 1.5 times their default (assumption; no spread where the site gives "
    "its own figure)"
)


def holding(cover: CoverProperties, share: float) -> CoverProperties:
    """Give a cover that holds another share of its water."""
    return cover.model_copy(update={"held_l_m2": share * cover.held_l_m2})
