"""Every error the planner raises on purpose.

* KeepdampError              never raised itself
  - InputError         10   one or more problems in the site folder
  - OutOfRangeError    11   a formula asked outside the range of its source
  - ContradictionError  1   the audit found what the solver denies: a bug of ours

The numbers are exit codes. 12 is left to findings above the level a script asked
for, 1 to crashes and 2 to wrong usage of the command line.
"""

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, order=True)
class Problem:
    """One thing wrong with the input, in words for the person who wrote it.

    ``place`` is file and line, row or cell; ``field`` the column or key, "" where
    the whole file or row is meant; ``hint`` says how to mend it, "" if plain.
    """

    place: str
    field: str
    found: str
    wanted: str
    hint: str = ""

    def __str__(self) -> str:
        """Return ``place, field: found FOUND; wanted WANTED. HINT``."""
        where = f"{self.place}, {self.field}" if self.field else self.place
        text = f"{where}: found {self.found}; wanted {self.wanted}"
        return f"{text}. {self.hint}" if self.hint else text


class KeepdampError(Exception):
    """Base of all planned errors; the command line turns it into an exit code."""

    exit_code = 1


class InputError(KeepdampError):
    """The site folder has problems; all of them, not only the first."""

    exit_code = 10

    def __init__(self, problems: Sequence[Problem]) -> None:
        self.problems = tuple(problems)
        count = len(self.problems)
        head = f"{count} problem{'' if count == 1 else 's'} in the site folder"
        super().__init__("\n".join([head, *(f"  {p}" for p in self.problems)]))


class OutOfRangeError(KeepdampError, ValueError):
    """A formula was asked outside the range its source gives."""

    exit_code = 11

    def __init__(self, *, name: str, found: float, wanted: str, source: str) -> None:
        self.name, self.found = name, found
        super().__init__(f"{name} = {found:g}: {source} holds for {wanted}")


class ContradictionError(KeepdampError):
    """The audit and the solver disagree about a roster; it must not be used."""

    def __init__(self, statements: Sequence[str]) -> None:
        self.statements = tuple(statements)
        head = "The audit contradicts the roster; this is a bug, do not use it"
        super().__init__("\n".join([head, *(f"  {s}" for s in self.statements)]))
