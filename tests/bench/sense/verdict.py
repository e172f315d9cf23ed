"""What a rule finds: cases in words, how many there are and of how many."""

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True)
class Case:
    """One thing that a foreman would not sign; the worse it is, the larger ``bad``."""

    bad: float
    words: str


@dataclass(frozen=True)
class Verdict:
    """A rule's answer for one site.

    Attributes
    ----------
    amount : float
        How much of it there is: cases, minutes or cost.
    whole : float or None
        What it is a share of; None where a share would tell nothing.
    most : float
        The share that is let pass, or 0: then the amount has to be 0.
    told : bool
        Told only: it has no limit.
    """

    rule: str
    title: str
    cases: tuple[Case, ...]
    amount: float
    whole: float | None = None
    unit: str = ""
    most: float = 0.0
    told: bool = False

    @property
    def share(self) -> float | None:
        """Part of the whole, 0 to 1."""
        return self.amount / self.whole if self.whole else None

    @property
    def over(self) -> bool:
        """Whether there is more of it than is let pass."""
        if self.told:
            return False
        return (self.share or 0) > self.most if self.most else self.amount > 0

    @property
    def worst(self) -> tuple[Case, ...]:
        """Its cases, the worst first."""
        return tuple(sorted(self.cases, key=lambda case: (-case.bad, case.words)))


def counted(
    rule: str,
    title: str,
    cases: Iterable[Case],
    whole: float | None = None,
    unit: str = "",
    most: float = 0.0,
    told: bool = False,
) -> Verdict:
    """Give a verdict whose amount is the number of its cases."""
    found = tuple(cases)
    return Verdict(rule, title, found, len(found), whole, unit, most, told)
