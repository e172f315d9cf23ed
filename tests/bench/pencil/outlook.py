"""What a foreman sees when he looks around: what is bare, what lacks, who is there."""

from math import ceil

from models.records import CoverNeed
from tests.bench.pencil.book import Book
from tests.bench.pencil.spots import Spot
from tests.bench.yard.facts import FOG_M2, SET_UP_MIN, Action, SiteFacts
from tests.bench.yard.order import EARLY_MIN
from tests.bench.yard.rows import Row

FOG_MIN = 15
_THERE_MIN = 5  # before it begins to dry whoever fogs is there
#: What is not done now would be left so long (assumption). [min]
AHEAD_MIN = 240
_ALL_HANDS_M2 = 100


class Outlook:
    """A site at a minute of its week.

    Attributes
    ----------
    begins_min : int
        First minute at which anybody is there.
    home_min, back_min : int
        When the people of now have gone home with nobody after them, and when somebody
        comes again.
    top_up_min : int
        How long before that covers are topped up.
    """

    def __init__(self, facts: SiteFacts) -> None:
        self.facts, self.book = facts, Book(facts)
        self.spots = list(self.book.spots.values())
        shifts = facts.work.shifts
        self.begins_min = max(0, min(shift.starts_min for shift in shifts))
        self.home_min = self.back_min = self.top_up_min = 0

    def by_rate(self, now: int) -> list[Spot]:
        """The surfaces by what lies bare of them an hour on, the dearest first."""
        soon = now + 60
        return sorted(self.spots, key=lambda s: (-s.rate(soon), s.id))

    def need(self, spot: Spot, action: Action = "lay") -> CoverNeed | None:
        """Give the covers that an action lays."""
        job = spot.facts.jobs.get(action)
        ids = {task.id for task in job.tasks} if job else set()
        needs = spot.facts.work.cover_needs
        return next((need for need in needs if need.laid_by in ids), None)

    def soaks_from(self, spot: Spot, action: Action) -> int | None:
        """When their cloth has to go into water; None if it need not, or was before."""
        need, job = self.need(spot, action), spot.facts.jobs.get(action)
        if need is None or job is None or not need.soak_lead_min:
            return None
        last = job.earliest_min - need.soak_lead_min
        return last if last > self.begins_min else None

    def cloth(self, spot: Spot, now: int, action: Action = "lay") -> float:
        """Share of a surface for which there are covers, wet if they have to be."""
        need = self.need(spot, action)
        if need is None:
            return 1.0
        free = self.book.stock.free_m2(need.kind, now)
        if self.soaks_from(spot, action) is not None:
            free = min(free, self.book.stock.wet_m2(need.kind, now))
        soaked = sum(m2 for at, m2 in spot.soaked[need.kind] if at <= now)
        return (soaked + free) / need.area_m2

    def take_cloth(self, spot: Spot, action: Action, row: Row) -> None:
        """Take what a row lays: from the water first, then from the stock."""
        need = self.need(spot, action)
        if need is None:
            return
        wanted, soaked = row.share * need.area_m2, spot.soaked[need.kind]
        for i, (at, m2) in enumerate(soaked):
            if at <= row.start_min:
                taken = min(m2, wanted)
                soaked[i] = (at, m2 - taken)
                wanted -= taken
        self.book.stock.take(need, wanted, row.start_min, wet=True)

    def bare(self, spot: Spot, now: int) -> bool:
        """Whether some of it is without a cover yet."""
        return spot.rest > 1e-3 and now < spot.facts.work.ends_min

    def worth(self, spot: Spot, now: int) -> float:
        """Area cost that a worker-minute saves there, at laying or at fogging."""
        weight = spot.rate(now) / (spot.rest * spot.area_m2)
        lay = spot.facts.jobs.get("lay")
        if lay is not None and self.may_lay(spot, now):
            set_up = SET_UP_MIN * lay.fewest / spot.area_m2
            return weight * AHEAD_MIN / (lay.per_m2_min + set_up)
        fogged_m2 = min(FOG_M2, spot.rest * spot.area_m2)
        return weight * fogged_m2 if self.foggers(spot, now) else 0.0

    def may_lay(self, spot: Spot, now: int) -> bool:
        """Whether it takes a cover and there is one."""
        job = spot.facts.jobs.get("lay")
        if job is None:
            return False
        need = self.need(spot)
        soaks = need is not None and need.soak_lead_min > 0
        early = EARLY_MIN if spot.facts.is_small and not soaks else 0
        return now >= job.earliest_min - early and self.cloth(spot, now) > 0.01

    def foggers(self, spot: Spot, now: int) -> int:
        """How many more it takes to fog all that is bare."""
        job = spot.facts.jobs.get("fog")
        drying = spot.is_drying(now) or spot.is_drying(now + _THERE_MIN)
        if job is None or not drying:
            return 0
        if "spray" in spot.facts.jobs:
            asked = any(t.earliest_min <= now < t.latest_min for t in job.tasks)
            if not asked or spot.share["spray"] > 0:
                return 0
        there = sum(people for until, people in spot.fogged if until > now)
        return max(0, ceil(spot.rest * spot.area_m2 / FOG_M2) - there)

    def pressed(self, now: int) -> bool:
        """Whether a large surface lies bare, so that looks and lifting wait."""
        return any(
            spot.area_m2 >= _ALL_HANDS_M2
            and spot.rest > 1e-3
            and spot.is_drying(now)
            and (self.may_lay(spot, now) or self.foggers(spot, now + FOG_MIN))
            for spot in self.spots
        )

    def spare_min(self, now: int, most_min: int) -> int:
        """Minutes until a large surface wants all hands; lesser work ends by then."""
        for spot in self.spots:
            ready = spot.facts.ready_min
            large = spot.area_m2 >= _ALL_HANDS_M2 and spot.rest > 0
            if not large or ready is None or spot.share["spray"]:
                continue
            if now < ready < now + most_min and self.cloth(spot, ready) > 0.01:
                most_min = ready - now
        return most_min

    def backlog(self, now: int) -> float:
        """Worker-minutes of laying that wait on bare surfaces."""
        return sum(
            spot.facts.jobs["lay"].per_m2_min * spot.rest * spot.area_m2
            for spot in self.spots
            if spot.rest > 1e-3 and spot.is_drying(now) and self.may_lay(spot, now)
        )

    def people(self, now: int) -> int:
        """How many are on shift."""
        gangs = (gang.shift for gang in self.book.crew.gangs)
        return sum(s.people for s in gangs if s.starts_min <= now < s.ends_min)
