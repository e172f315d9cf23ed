"""Every error the planner raises on purpose.

* KeepdampError              never raised itself
  - InputError         10   one or more problems in the site folder
  - OutOfRangeError    11   a formula asked outside the range of its source
  - ContradictionError  1   the audit found what the solver denies: a bug of ours

The numbers are exit codes. 12 is left to findings above the level a script asked
for, 1 to crashes and 2 to wrong usage of the command line.
"""

from collections.abc import Sequence
from dataclasses import asdict, dataclass


@dataclass(frozen=True)
class Place:
    """Where a value stands; ``cell`` is its name in a spreadsheet (``Pours!D7``)."""

    file: str
    line: int = 0
    column: int = 0
    cell: str = ""

    def __str__(self) -> str:
        """Return ``pours.csv:7``, ``pours.xlsx:Pours!D7`` or the file alone."""
        spot = self.cell or (str(self.line) if self.line else "")
        return f"{self.file}:{spot}" if spot else self.file


@dataclass(frozen=True)
class Problem:
    """One thing wrong with the input, in words for the person who wrote it.

    Attributes
    ----------
    place : Place
        File and line, row or cell.
    field : str
        Column or key, "" where the whole file or row is meant.
    found : str
        What stands there, "" where nothing does.
    wanted : str
        What should, "" where ``found`` says it all, such as "file not found".
    hint : str
        How to mend it, "" if plain.
    nearest : str
        The nearest method that may stand there, "" if none may or none is asked for.
    """

    place: Place
    field: str
    found: str
    wanted: str = ""
    hint: str = ""
    nearest: str = ""

    def __str__(self) -> str:
        """Return ``place, field: found FOUND; expected WANTED. HINT``."""
        text = f"{self.place}, {self.field}" if self.field else f"{self.place}"
        if not self.wanted:
            text += f": {self.found}"
        elif self.found:
            text += f": found {self.found}; expected {self.wanted}"
        else:
            text += f": missing; expected {self.wanted}"
        nearest = f"Nearest that fits: {self.nearest}" if self.nearest else ""
        return ". ".join(part for part in (text, self.hint, nearest) if part)

    def facts(self) -> dict[str, str | int]:
        """Give the parts by name, for scripts; ``place`` as people read it."""
        spot = {"file": self.place.file, "line": self.place.line}
        rest = {k: v for k, v in asdict(self).items() if k != "place"}
        return {"place": str(self.place), **spot, "cell": self.place.cell, **rest}


class KeepdampError(Exception):
    """Base of all planned errors; the command line turns it into an exit code."""

    exit_code = 1


class InputError(KeepdampError):
    """The site folder has problems; all of them, not only the first."""

    exit_code = 10

    def __init__(self, problems: Sequence[Problem]) -> None:
        self.problems = tuple(problems)
        count = len(self.problems)
        head = f"{count} problem{'' if count == 1 else 's'} found"
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
