"""What became of a site: its week in a few figures, or why there is none.

Small and plain, since it travels from the process that planned the site.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from models.errors import Problem


@dataclass(frozen=True)
class Planned:
    """A site whose out folder is written.

    ``breached`` counts the surfaces that leave a limit on their temperature.
    """

    folder: Path
    site: str
    surfaces: int
    visits: int
    breached: int
    gaps: int
    dry_min: int
    cost: float
    took_s: float


@dataclass(frozen=True)
class Unplanned:
    """A site whose out folder is as it was before.

    ``problems`` are those of the folder; ``fault`` says what else went wrong, ""
    where the problems say it all. ``exit_code`` is that of the same error met alone.
    """

    folder: Path
    exit_code: int
    problems: tuple[Problem, ...] = ()
    fault: str = ""


Outcome = Planned | Unplanned


def worst_first(outcomes: Iterable[Outcome]) -> list[Outcome]:
    """Put sites without a plan first, then most breaches, then the longest dry."""

    def rank(outcome: Outcome) -> tuple[int, float, float, float, str]:
        if isinstance(outcome, Unplanned):
            return outcome.exit_code - 100, 0, 0, 0, str(outcome.folder)
        worst = (-outcome.breached, -outcome.dry_min, -outcome.cost)
        return 0, *worst, str(outcome.folder)

    return sorted(outcomes, key=rank)


def exit_code(outcomes: Iterable[Outcome]) -> int:
    """Give 0 if every site is planned, else the code of the gravest failure.

    A fault of the program (1) is graver than problems of a folder (10).
    """
    codes = [one.exit_code for one in outcomes if isinstance(one, Unplanned)]
    return min(codes, default=0)
