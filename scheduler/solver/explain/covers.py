"""When the stock of covers keeps a visit away, and the words for it."""

from collections.abc import Iterable

from models.quantities import show
from scheduler.solver.explain.words import SiteWords, less, listed
from scheduler.solver.plan.cost import Stop
from scheduler.solver.plan.covers import Need
from scheduler.solver.plan.plan import Plan
from scheduler.solver.plan.wet_moves import NEVER, SLACK_M2
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
    """Says what is wanted, what is free, who takes it and when more comes off."""

    def __init__(self, plan: Plan, say: SiteWords) -> None:
        self.plan, self.say = plan, say

    def short(self, job: Job, start: int) -> str:
        """Say why the covers that a job lays are not there for it."""
        book = self.plan.covers
        index = book.laying.get(job.index)
        if index is None:
            return "the covers that would stay on longer are wanted elsewhere"
        need = book.needs[index]
        wanted, title = self._area(need.area_m2), need.supply.title.lower()
        label = self.plan.problem.surfaces[need.surface].work.label
        if need.area_m2 > need.supply.stock_m2 + SLACK_M2:
            stock = self._area(need.supply.stock_m2)
            return f"{label} wants {wanted} of {title}; the site has {stock}"
        taken = max(0, start - book.soaks_for(need))
        soaks = f", in water from {self.say.at(taken)}" if taken < start else ""
        wants = f"{label} wants {wanted} of {title} {self.say.at(start)}{soaks}"
        free_m2 = need.supply.stock_m2 - self._used_m2(need, taken)
        if free_m2 < need.area_m2 - SLACK_M2:
            return f"{wants}; {self._too_few(need, taken, max(0.0, free_m2))}"
        if need.soaked_by is not None and self._free_until(need, taken) >= NEVER:
            return f"{wants}; {self._not_soaked(need)}"
        return f"{wants}; {self._taken_later(need, taken)}"

    def _used_m2(self, need: Need, minute: int) -> float:
        """Area that others have in a minute."""
        steps = self.plan.covers.levels(need)
        return next(used_m2 for at, used_m2 in reversed(steps) if at <= minute)

    def _too_few(self, need: Need, taken: int, free_m2: float) -> str:
        """Say how much is free at once, and when there is enough."""
        book, horizon = self.plan.covers, self.plan.problem.horizon
        free, stock = self._area(free_m2), self._area(need.supply.stock_m2)
        free = less(free, self._area(need.area_m2))
        words = f"{free} of {stock} are free"
        enough = [
            minute
            for minute, used_m2 in book.levels(need)
            if taken < minute < horizon
            and used_m2 + need.area_m2 <= need.supply.stock_m2 + SLACK_M2
        ]
        if not enough:
            return f"{words}, and never enough for it again in the plan"
        holders = book.holders(need, taken, taken + 1)
        off = [h for h in holders if self._until(h) <= enough[0]]
        labels = self._labels(off)
        when = f", when those of {labels} are off and washed" if off else ""
        return f"{words}, enough from {self.say.at(enough[0])}{when}"

    def _free_until(self, need: Need, taken: int) -> int:
        """First minute from one on at which others leave a need too little."""
        return next(
            (
                minute
                for minute, used_m2 in self.plan.covers.levels(need)
                if minute > taken
                and used_m2 + need.area_m2 > need.supply.stock_m2 + SLACK_M2
            ),
            NEVER,
        )

    def _not_soaked(self, need: Need) -> str:
        """Say when somebody puts it into water, if anybody does."""
        assert need.soaked_by is not None
        soak = self.plan.stop_of(need.soaked_by)
        if soak is None:
            return "nobody puts it into water, and so much does not come off wet"
        return f"it goes into water {self.say.at(soak.start)}"

    def _taken_later(self, need: Need, taken: int) -> str:
        """Say who takes what is free before it would come off again."""
        book = self.plan.covers
        for minute, used_m2 in book.levels(need):
            short = used_m2 + need.area_m2 > need.supply.stock_m2 + SLACK_M2
            if short and minute > taken:
                takers = [
                    other
                    for other in book.holders(need, minute, minute + 1)
                    if self._from(other) > taken
                ]
                who, when = self._labels(takers), self.say.at(minute)
                return f"they are free then, but needed for {who} from {when}"
        return "they are free then, but more are out already than the site has"

    def _labels(self, needs: Iterable[Need]) -> str:
        surfaces = self.plan.problem.surfaces
        return listed(surfaces[need.surface].work.label for need in needs)

    def _from(self, need: Need) -> int:
        span = self.plan.covers.spans[self.plan.covers.needs.index(need)]
        return NEVER if span is None else span[0]

    def _until(self, need: Need) -> int:
        span = self.plan.covers.spans[self.plan.covers.needs.index(need)]
        return NEVER if span is None else span[1]

    def _area(self, area_m2: float) -> str:
        return show("area", area_m2, self.say.units)
