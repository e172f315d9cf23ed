"""The weeks that the bench plans: invented ones, a study's, and site folders."""

from dataclasses import dataclass
from pathlib import Path

from models.records import WorkList
from tests.bench.instances import Size, instance
from tests.bench.study import read_study


@dataclass(frozen=True)
class Invented:
    """A week of the bench's own making."""

    size: Size
    seed: int

    @property
    def name(self) -> str:
        """As the table names it."""
        return f"{self.size.surfaces} surfaces, seed {self.seed}"

    def work(self) -> WorkList:
        """Make its work list."""
        return instance(self.size, self.seed)


@dataclass(frozen=True)
class Study:
    """A file of the roster study."""

    path: Path

    @property
    def name(self) -> str:
        """As the table names it."""
        return self.path.stem

    def work(self) -> WorkList:
        """Read it."""
        return read_study(self.path)


@dataclass(frozen=True)
class SiteFolder:
    """A folder as a planner keeps it, through clocks and methods."""

    path: Path

    @property
    def name(self) -> str:
        """As the table names it."""
        return self.path.name

    def work(self) -> WorkList:
        """Run its clocks and work out what is due, as a plan does."""
        from scheduler.clocked import run_clocks
        from scheduler.methods.expand import expand

        clocked = run_clocks(self.path)
        return expand(
            clocked.site_input, clocked.surfaces, clocked.hydration, clocked.drying
        )


Week = Invented | Study | SiteFolder
