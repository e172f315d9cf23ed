"""A vertical scale: round figures at its marks, heights for its values."""

from math import ceil, floor, log10

from models.records import Record

#: At most so many parts between marks; more would be smaller than their figures.
_PARTS = 6


class Scale(Record):
    """From ``low`` at ``bottom_px`` to ``high`` at ``top_px``; y grows downwards."""

    low: float
    high: float
    step: float
    top_px: float
    bottom_px: float

    def y(self, value: float) -> float:
        """Height of a value; what lies beyond the scale stays at its edge."""
        share = (min(max(value, self.low), self.high) - self.low) / (
            self.high - self.low
        )
        return round(self.bottom_px - share * (self.bottom_px - self.top_px), 1)

    def marks(self) -> tuple[tuple[float, str], ...]:
        """Heights and figures of the marks, from the lowest up."""
        count = round((self.high - self.low) / self.step)
        digits = max(0, -floor(log10(self.step) + 1e-9))
        values = (self.low + i * self.step for i in range(count + 1))
        return tuple((self.y(value), f"{value:.{digits}f}") for value in values)


def scale(
    low: float, high: float, least_span: float, top_px: float, bottom_px: float
) -> Scale:
    """Take in all values between two, in parts of 1, 2 or 5.

    Parameters
    ----------
    low, high : float
        Least and greatest value to be drawn.
    least_span : float
        The scale spans at least this, so that noise is not drawn as a mountain.
    top_px, bottom_px : float
        Where it ends in the picture.
    """
    high = max(high, low + least_span)
    rough = (high - low) / _PARTS
    power = 10.0 ** floor(log10(rough))
    for part in (1, 2, 5, 10, 20):
        step = part * power
        first, last = floor(low / step + 1e-9), ceil(high / step - 1e-9)
        if last - first <= _PARTS:
            break
    return Scale(
        low=first * step, high=last * step, step=step, top_px=top_px,
        bottom_px=bottom_px,
    )  # fmt: skip
