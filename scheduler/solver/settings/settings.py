"""What steers the search and is no rule of the site: one frozen record of all of it.

Another value may find another roster, never one that breaks a rule. A problem carries
its settings, so whoever has the problem has them; to vary one, make another record:

    replace(DEFAULT, local_search=replace(DEFAULT.local_search, rounds=1))

Where a figure was set by measuring, it says by what. All others are judgement: they
did well on the demos and on the invented weeks of ``tests/bench``, from 10 to 1,000
surfaces, tried a few at a time and not one by one.

Minutes end in ``_min``; work is CP-SAT's deterministic time, the same on every machine.
"""

from dataclasses import dataclass

from scheduler.solver.settings.effort import EffortSettings
from scheduler.solver.settings.model import ModelSettings
from scheduler.solver.settings.moves import CostDriverSettings, LocalSearchSettings
from scheduler.solver.settings.neighbourhoods import RandomSettings, SweepSettings
from scheduler.solver.settings.search import SearchSettings
from scheduler.solver.settings.start import StartSettings


@dataclass(frozen=True)
class Settings:
    """All of them."""

    effort: EffortSettings
    start: StartSettings
    cost_drivers: CostDriverSettings
    local_search: LocalSearchSettings
    model: ModelSettings
    random: RandomSettings
    sweep: SweepSettings
    search: SearchSettings


DEFAULT = Settings(
    effort=EffortSettings(),
    start=StartSettings(),
    cost_drivers=CostDriverSettings(),
    local_search=LocalSearchSettings(),
    model=ModelSettings(),
    random=RandomSettings(),
    sweep=SweepSettings(),
    search=SearchSettings(),
)
