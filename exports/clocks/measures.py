"""The site's own units on axes and in figures; factors come from the one unit table."""

from dataclasses import dataclass

from models.quantities import UNITS, Units


@dataclass(frozen=True)
class Measure:
    """How a quantity is written: shown = value × factor + offset, then the unit."""

    unit: str
    digits: int
    factor: float = 1.0
    offset: float = 0.0

    def shown(self, value: float) -> float:
        """Convert from the record's unit."""
        return value * self.factor + self.offset

    def words(self, value: float) -> str:
        """Say a value of the record's unit."""
        return f"{self.shown(value):.{self.digits}f} {self.unit}"


def _into(kind: str, spelling: str, unit: str, digits: int, amount: float) -> Measure:
    """Turn the reading of a unit round; ``amount`` scales it (per 100 ft²)."""
    read = UNITS[kind][spelling]
    return Measure(
        unit, digits, amount / read.factor, -amount * read.offset / read.factor
    )


TEMPERATURE: dict[Units, Measure] = {
    "si": Measure("°C", 1),
    "us": _into("temperature", "degF", "°F", 0, 1),
}
DIFFERENCE: dict[Units, Measure] = {
    "si": Measure("K", 1),
    "us": _into("temperature difference", "degF", "°F", 0, 1),
}
COOLING: dict[Units, Measure] = {
    "si": Measure("K/h", 1),
    "us": _into("temperature difference", "degF", "°F/h", 1, 1),
}
LOSS: dict[Units, Measure] = {
    "si": Measure("L/(m² h)", 2),
    "us": _into("water per area", "US gal/ft2", "US gal/(100 ft² h)", 2, 100),
}
