"""How much work the solver puts into a roster."""

import math
from dataclasses import dataclass

from models.records import WorkList
from scheduler.solver.settings.effort import EffortSettings


def size_of(work: WorkList, settings: EffortSettings) -> float:
    """Size of a site: its surfaces, or more where there is more to do on each."""
    duties = sum(len(surface.tasks) for surface in work.surfaces)
    return max(len(work.surfaces), duties / settings.duties_per_surface)


@dataclass(frozen=True)
class Effort:
    """Deterministic work, or seconds for someone who waits.

    Attributes
    ----------
    work : float or None
        Work to spend, counted the same on every machine, so that the same input gives
        the same roster; about 0.5 to 1.5 a second on two cores. None: by the size
        of the site.
    seconds : float or None
        Be done after about this time instead, whatever was found; rosters then differ
        from run to run.
    """

    work: float | None = None
    seconds: float | None = None

    def __post_init__(self) -> None:
        """Refuse efforts that mean nothing."""
        for name in ("work", "seconds"):
            value = getattr(self, name)
            if value is not None and not value >= 0:
                raise ValueError(f"{name} = {value}: an effort is 0 or more")
        if self.work is not None and self.seconds is not None:
            raise ValueError("give work or seconds, not both")

    def budget(self, size: float, settings: EffortSettings) -> float:
        """Work to spend on a site of some size, or about what seconds allow."""
        if self.work is not None:
            return self.work
        if self.seconds is not None:
            return settings.work_per_second * self.seconds
        quick = settings.quick_work * math.pow(size, settings.quick_growth)
        usual = settings.work_per_surface * math.pow(size, settings.growth)
        usual += settings.usual_work
        return max(settings.least_work, min(quick, usual))

    def less(self, seconds: float) -> "Effort":
        """Leave seconds for what comes after; work stays as it is."""
        if self.seconds is None:
            return self
        return Effort(seconds=max(0.0, self.seconds - seconds))

    def share(self, fraction: float, size: float, settings: EffortSettings) -> "Effort":
        """Take a share of it, on a site of some size."""
        if self.seconds is not None:
            return Effort(seconds=fraction * self.seconds)
        return Effort(work=fraction * self.budget(size, settings))

    @property
    def words(self) -> str:
        """The effort as it is noted in the roster."""
        if self.seconds is not None:
            return f"{self.seconds:g} s"
        return "fixed work" if self.work is None else f"work {self.work:g}"
