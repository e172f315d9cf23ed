"""One value of a source and what we make of it."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from typing import Literal

How = Literal["read", "from memory", "package", "analytic", "regression"]


@dataclass(frozen=True)
class Case:
    """A reference check.

    Attributes
    ----------
    id : str
        Unique, short, without spaces.
    source : str
        Standard, paper or package that gives the value.
    how : str
        Whether the value was read there, is from memory, comes from a package that is
        run for it, or follows on paper from a closed solution. A regression rests on
        what ours rests on: it would notice a slip, not a mistake.
    quantity, unit : str
        What is compared.
    expected : float
        The source's value.
    ours : callable
        Computes our value.
    tolerance : float
        What the source can bear; see ``relative``.
    relative : bool
        The tolerance is a share of the expected value, not a difference.
    quoted : bool
        Ours is that figure itself, in a rule or a table of ours: this shows that it is
        quoted rightly, not that a formula is right.
    """

    id: str
    source: str
    how: How
    quantity: str
    unit: str
    expected: float
    ours: Callable[[], float]
    tolerance: float
    relative: bool = False
    quoted: bool = False

    @property
    def allowed(self) -> float:
        """Largest difference that passes, in the case's unit."""
        return self.tolerance * (abs(self.expected) if self.relative else 1)


def as_quoted(cases: Iterable[Case]) -> tuple[Case, ...]:
    """Mark those that come out of print: ours were taken from there."""
    return tuple(
        replace(case, quoted=case.how in ("read", "from memory")) for case in cases
    )
