"""The seam between the sites and whatever machines plan them."""

from collections.abc import Callable, Generator, Sequence
from pathlib import Path
from typing import Protocol

from scheduler.fleet.outcome import Outcome

#: Plans one site; it can be pickled, and no error leaves it.
SitePlanner = Callable[[Path], Outcome]


class Mapper(Protocol):
    """A way to plan every folder."""

    def map(
        self, planner: SitePlanner, folders: Sequence[Path]
    ) -> Generator[Outcome, None, None]:
        """Give one outcome for each folder, in the order in which they are done.

        A folder whose worker is lost is given to another. After the generator is
        closed early, no further folder is begun.
        """
        ...
