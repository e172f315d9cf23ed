"""The surfaces in a foreman's notebook: what is laid, wet, soaked and done on each."""

from collections import defaultdict
from dataclasses import dataclass, field

import numpy as np

from models.records import CoverNeed
from tests.bench.sense.course import first_dry_min
from tests.bench.yard.facts import Action, SiteFacts, SurfaceFacts

_NEVER = 1 << 40
_WHOLE = 0.999
STAYS_WET_MIN = 1440


@dataclass
class Spot:
    """A surface and how far its work has come.

    Attributes
    ----------
    share : dict
        Of each action so far; people at work on it are counted as done.
    ended_min : dict
        When the last of that will be over.
    full_min : int or None
        Since when the first strip under its cover has not been wetted.
    soaked : dict
        By kind, from when so much cloth has been in water long enough. [m²]
    """

    facts: SurfaceFacts
    share: dict[str, float] = field(default_factory=lambda: defaultdict(float))
    ended_min: dict[str, int] = field(default_factory=lambda: defaultdict(int))
    full_min: int | None = None
    dry_min: int = _NEVER
    soaked: dict[str, list[tuple[int, float]]] = field(
        default_factory=lambda: defaultdict(list)
    )
    done: set[str] = field(default_factory=set)
    fogged: list[tuple[int, int]] = field(default_factory=list)

    @property
    def id(self) -> str:
        """Of the surface."""
        return self.facts.work.surface_id

    @property
    def area_m2(self) -> float:
        """Of the whole."""
        return self.facts.work.area_m2

    def whole(self, action: Action) -> bool:
        """Whether an action is done, all times that it is asked for."""
        job = self.facts.jobs.get(action)
        return job is None or self.share[action] >= job.times * _WHOLE

    @property
    def rest(self) -> float:
        """Share that still lies bare."""
        if self.facts.work.covered_from_min is not None:
            return 0.0
        return max(0.0, 1 - self.share["lay"])

    def is_drying(self, minute: int) -> bool:
        """Whether what is bare dries at a minute."""
        work = self.facts.work
        fresh = any(s.from_min <= minute < s.until_min for s in work.fresh)
        return fresh and minute < work.ends_min

    def rate(self, minute: int) -> float:
        """Price of a minute in which all that is bare dries."""
        at = min(minute, len(self.facts.bare_weight) - 1)
        return float(self.facts.bare_weight[at]) * self.area_m2 * self.rest / 100

    def begin(self, length_min: int) -> None:
        """Note what lies there already as the week begins."""
        work = self.facts.work
        if work.covered_from_min is None or work.curve is None:
            return
        self.full_min = 0
        loss = self.facts.loss_l_m2[: min(length_min, work.ends_min)]
        gone = np.flatnonzero(np.cumsum(loss) >= work.reserve_at_start_l_m2)
        self.dry_min = int(gone[0]) + 1 if len(gone) else _NEVER

    def wet_from(self, minute: int, length_min: int) -> None:
        """Note that a cover is full."""
        self.full_min = minute
        if self.facts.work.curve is not None:
            self.dry_min = first_dry_min(self.facts.work, minute, length_min)
            if self.dry_min >= min(length_min, self.facts.work.ends_min):
                self.dry_min = _NEVER


class Stock:
    """Covers on the site: what is out, and what came off wet."""

    def __init__(self, facts: SiteFacts) -> None:
        self.left = {one.kind: one.stock_m2 for one in facts.work.covers}
        self.back: list[tuple[int, str, float]] = []
        for of in facts.surfaces.values():
            for need in of.work.cover_needs:
                if need.laid_by is None:
                    self.left[need.kind] -= need.area_m2

    def free_m2(self, kind: str, minute: int) -> float:
        """Area that may be taken at a minute."""
        ready = sum(m2 for at, of, m2 in self.back if of == kind and at <= minute)
        return next((m2 for of, m2 in self.left.items() if of == kind), _NEVER) + ready

    def wet_m2(self, kind: str, minute: int) -> float:
        """Area that has come off wet so lately that it needs no soaking."""
        return sum(
            m2
            for at, of, m2 in self.back
            if of == kind and at <= minute <= at + STAYS_WET_MIN
        )

    def take(self, need: CoverNeed, area_m2: float, minute: int, *, wet: bool) -> None:
        """Take covers: to lay at once those that came off last, else dry ones first."""
        if need.kind not in self.left:
            return
        if not wet:
            area_m2 -= self._take_dry(need, area_m2)
        for i in sorted(range(len(self.back)), key=lambda i: self.back[i], reverse=wet):
            at, kind, m2 = self.back[i]
            if kind == need.kind and at <= minute and area_m2 > 0:
                taken = min(m2, area_m2)
                self.back[i] = (at, kind, m2 - taken)
                area_m2 -= taken
        self.left[need.kind] -= area_m2

    def _take_dry(self, need: CoverNeed, area_m2: float) -> float:
        """Take what has lain in store so far; gives the area."""
        taken = max(0.0, min(self.left[need.kind], area_m2))
        self.left[need.kind] -= taken
        return taken

    def give_back(self, need: CoverNeed, area_m2: float, minute: int) -> None:
        """Covers are off, and washed and moved later."""
        if need.kind in self.left:
            self.back.append((minute + need.turnaround_min, need.kind, area_m2))
