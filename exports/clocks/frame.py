"""Where things stand in a chart: two plots over one time axis, labels at the right."""

from datetime import datetime

from exports.axis import Axis
from models.records import Record

WIDTH_PX, LEFT_PX, RIGHT_PX = 1200.0, 64.0, 1068.0
HEAT_TOP_PX, HEAT_BOTTOM_PX = 0.0, 184.0
STRENGTH_PX, DAYS_PX = 201.0, 221.0  # baselines of the two lines of text between
LOSS_TOP_PX, LOSS_BOTTOM_PX = 238.0, 326.0
FOOT_PX = 346.0
ROW_PX = 17.0  # of a label above the upper plot
#: Width of an average letter of the chart's text; a guess on the wide side. [px]
LETTER_PX = 6.9


class Frame(Record):
    """The same figures for the template."""

    width: float = WIDTH_PX
    left: float = LEFT_PX
    right: float = RIGHT_PX
    heat_top: float = HEAT_TOP_PX
    heat_bottom: float = HEAT_BOTTOM_PX
    strength: float = STRENGTH_PX
    days: float = DAYS_PX
    loss_top: float = LOSS_TOP_PX
    loss_bottom: float = LOSS_BOTTOM_PX
    foot: float = FOOT_PX
    row: float = ROW_PX


class Text(Record):
    """Words at a place; the line they stand on is known."""

    x: float
    words: str


def x_of_minute(axis: Axis, minute: float) -> float:
    """Where a minute of the week stands, in pixels."""
    return round(LEFT_PX + (RIGHT_PX - LEFT_PX) * minute / axis.length_min, 1)


def x_px(axis: Axis, at: datetime) -> float:
    """Where an instant stands, in pixels; at the plot's edge if beyond the week."""
    return x_of_minute(axis, axis.minute(at))
