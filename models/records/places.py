"""Where in the site folder each value stands, for what is refused after reading."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from models.errors import Place


@dataclass(frozen=True)
class Places:
    """Places by table, id and key; none for a site that a program made.

    Sites are the same whatever their places: a line more in a file changes nothing.
    """

    known: Mapping[tuple[str, str, str], Place] = field(
        default_factory=dict, compare=False, repr=False
    )

    def of(self, table: str, id: str = "", key: str = "") -> Place:
        """Place of a value, else of the row or table it would stand in."""
        spots = ((table, id, key), (table, id, ""))
        found = (self.known[spot] for spot in spots if spot in self.known)
        return next(found, Place(f"{table} {id}".rstrip()))
