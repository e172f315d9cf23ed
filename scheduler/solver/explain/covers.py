"""When the stock of covers keeps a visit away, and the words for it."""

from models.quantities import show
from scheduler.solver.explain.words import SiteWords, listed
from scheduler.solver.plan.cost import Stop
from scheduler.solver.plan.covers import NEVER, Need
from scheduler.solver.plan.plan import Plan
from scheduler.solver.problem.problem import Job


def covers_fit(plan: Plan, job: Job, start: int, own: Stop | None) -> bool:
    """Whether the stock bears a job at a minute.

    Parameters
    ----------
    own : Stop or None
        Where the job stands now; the trial would move it.
    """
    if job.index not in plan.covers.laying and job.index not in plan.covers.lifting:
        return True
    stops = [stop for stop in plan.by_surface[job.surface] if stop != own]
    stops = sorted([*stops, Stop(start, job.index, -1, -1)])
    return plan.covers.changed({job.surface: stops}) is not None


class CoverWords:
    """Says what is wanted, what is free and when more comes off."""

    def __init__(self, plan: Plan, say: SiteWords) -> None:
        self.plan, self.say = plan, say

    def short(self, job: Job, start: int) -> str:
        """Say how much of the covers that a job lays is free, and until when."""
        book = self.plan.covers
        index = book.laying.get(job.index)
        if index is None:
            return "the covers that would stay on longer are wanted elsewhere"
        need = book.needs[index]
        taken = max(0, start - need.lead)
        label = self.plan.problem.surfaces[need.surface].work.label
        soaks = f", in water from {self.say.at(taken)}" if taken < start else ""
        words = (
            f"{label} wants {self._area(need.area_m2)} of {need.supply.title.lower()} "
            f"{self.say.at(start)}{soaks}; {self._free(need, taken)}"
        )
        holders = book.holders(need, taken, start + 1)
        free_from = book.free_from(need, from_min=taken)
        if free_from >= NEVER:
            return f"{words}, and in the plan no more come off"
        if free_from <= taken:
            return f"{words}, but others will need them before they come off again"
        last = [h for h in holders if self._until(h) <= free_from]
        labels = listed(self.plan.problem.surfaces[h.surface].work.label for h in last)
        off = f", when those of {labels} are off and washed" if last else ""
        return f"{words} until {self.say.at(free_from)}{off}"

    def _free(self, need: Need, minute: int) -> str:
        """Say what is free in a minute, of how much."""
        free_m2 = max(0.0, self.plan.covers.free_m2(need, minute))
        return f"{self._area(free_m2)} of {self._area(need.supply.stock_m2)} are free"

    def _until(self, need: Need) -> int:
        span = self.plan.covers.spans[self.plan.covers.needs.index(need)]
        return NEVER if span is None else span[1]

    def _area(self, area_m2: float) -> str:
        return show("area", area_m2, self.say.units)
