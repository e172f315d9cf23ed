"""How much work the solver puts into a roster."""

import math
from dataclasses import dataclass

from scheduler.solver.settings.effort import EffortSettings


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

    def budget(self, surfaces: int, settings: EffortSettings) -> float:
        """Work to spend on a site of so many surfaces, or about what seconds allow."""
        if self.work is not None:
            return self.work
        if self.seconds is not None:
            return settings.work_per_second * self.seconds
        quick = settings.quick_work * math.pow(surfaces, settings.quick_growth)
        usual = settings.work_per_surface * math.pow(surfaces, settings.growth)
        usual += settings.usual_work
        return max(settings.least_work, min(quick, usual))

    def less(self, seconds: float) -> "Effort":
        """Leave seconds for what comes after; work stays as it is."""
        if self.seconds is None:
            return self
        return Effort(seconds=max(0.0, self.seconds - seconds))

    def share(
        self, fraction: float, surfaces: int, settings: EffortSettings
    ) -> "Effort":
        """Take a share of it, on a site of so many surfaces."""
        if self.seconds is not None:
            return Effort(seconds=fraction * self.seconds)
        return Effort(work=fraction * self.budget(surfaces, settings))

    @property
    def words(self) -> str:
        """The effort as it is noted in the roster."""
        if self.seconds is not None:
            return f"{self.seconds:g} s"
        return "fixed work" if self.work is None else f"work {self.work:g}"
