"""Every problem of a folder, kept until all files have been looked at."""

from collections import Counter
from dataclasses import dataclass

from models.errors import InputError, Problem

#: So many problems of one kind in one column are shown; the rest are counted.
ALIKE_SHOWN = 5


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


class Gatherer:
    """Takes problems in any order, gives them back in the order of the files."""

    def __init__(self) -> None:
        self._files: dict[str, int] = {}
        self._kept: list[tuple[tuple[int, int, int], Problem]] = []
        self._alike: Counter[tuple[str, str, str]] = Counter()

    def begin(self, file: str) -> None:
        """Fix the place of a file among the others."""
        self._files.setdefault(file, len(self._files))

    def add(
        self, place: Place, field: str, found: str, wanted: str, hint: str = ""
    ) -> None:
        """Keep one problem; past a few of the same kind they are only counted."""
        self.begin(place.file)
        alike = (place.file, field, wanted)
        self._alike[alike] += 1
        if self._alike[alike] > ALIKE_SHOWN:
            return
        order = (self._files[place.file], place.line, place.column)
        hint = hint[:1].upper() + hint[1:]  # it stands as a sentence of its own
        self._kept.append((order, Problem(str(place), field, found, wanted, hint)))

    def take(self, file: str, error: InputError) -> None:
        """Keep the problems another reader has already put into words."""
        self.begin(file)
        order = (self._files[file], 0, 0)
        self._kept.extend((order, problem) for problem in error.problems)

    def problems(self) -> tuple[Problem, ...]:
        """All problems by file, line and column; what was only counted comes last."""
        kept = [problem for _, problem in sorted(self._kept, key=lambda item: item[0])]
        for (file, field, wanted), count in self._alike.items():
            if count > ALIKE_SHOWN:
                more = f"{count - ALIKE_SHOWN} more like those above"
                kept.append(Problem(file, field, more, wanted))
        return tuple(kept)

    def raise_if_any(self) -> None:
        """Raise all problems together.

        Raises
        ------
        InputError
            If at least one was added.
        """
        found = self.problems()
        if found:
            raise InputError(found)
