"""Every problem of a folder, kept until all files have been read."""

from collections import Counter

from models.errors import InputError, Place, Problem

#: So many problems of one kind in one column are shown; the rest are counted.
MOST_SHOWN = 5


class ValueRefused(Exception):  # noqa: N818 - it never leaves this folder, is no error
    """A value that cannot be taken: what is expected instead, and how to mend it.

    The reader of one value raises it; the reader of the file adds the place. ``found``
    is the part of the value that is meant, "" where it is the whole.
    """

    def __init__(self, wanted: str, hint: str = "", found: str = "") -> None:
        super().__init__(wanted)
        self.wanted, self.hint, self.found = wanted, hint, found


class ProblemCollector:
    """Takes problems in any order, gives them back in the order of the files."""

    def __init__(self) -> None:
        self._files: dict[str, int] = {}
        self._kept: list[Problem] = []
        self._places: set[Place] = set()
        self._of_a_kind: Counter[tuple[str, str, str]] = Counter()

    def begin(self, file: str) -> None:
        """Fix the position of a file among the others."""
        self._files.setdefault(file, len(self._files))

    def add(
        self, place: Place, field: str, found: str, wanted: str = "", hint: str = ""
    ) -> None:
        """Keep one problem."""
        self.keep(Problem(place, field, found, wanted, hint))

    def keep(self, *problems: Problem) -> None:
        """Keep problems; past a few of the same kind they are only counted."""
        for problem in problems:
            self.begin(problem.place.file)
            self._places.add(problem.place)
            kind = (problem.place.file, problem.field, problem.wanted)
            self._of_a_kind[kind] += 1
            if self._of_a_kind[kind] <= MOST_SHOWN:
                self._kept.append(problem)

    def about(self, file: str) -> bool:
        """Tell whether a file has a problem."""
        return any(place.file == file for place in self._places)

    def at(self, place: Place) -> bool:
        """Tell whether a value has a problem already."""
        return place in self._places

    def in_order(self) -> tuple[Problem, ...]:
        """All problems by file, line and column; what was only counted comes last."""

        def position(problem: Problem) -> tuple[int, int, int]:
            place = problem.place
            return self._files[place.file], place.line, place.column

        kept = sorted(self._kept, key=position)
        for (file, field, wanted), count in self._of_a_kind.items():
            if count > MOST_SHOWN:
                more = f"{count - MOST_SHOWN} more like those above"
                kept.append(Problem(Place(file), field, more, wanted))
        return tuple(kept)

    def raise_if_any(self) -> None:
        """Raise all problems together.

        Raises
        ------
        InputError
            If there is at least one.
        """
        found = self.in_order()
        if found:
            raise InputError(found)
