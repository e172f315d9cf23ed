"""What the check before placing finds of the covers, and how those laid came wet.

The roster decides by which visit covers go into water, or that they need none; so it is
said from its visits.
"""

from collections.abc import Iterable

from models.local_clock import LocalClock
from models.records import CoverNeed, Horizon, SurfaceWork, Visit


class ClothWords:
    """Says of a site's covers when they go into water."""

    def __init__(
        self, visits: Iterable[Visit], horizon: Horizon, clock: LocalClock
    ) -> None:
        self._of = {(one.surface_id, one.task_id): one for one in visits}
        self._horizon, self._clock = horizon, clock

    def at_check(self, check: Visit, work: SurfaceWork) -> tuple[str, ...]:
        """Say what a check before placing finds of the covers; nothing elsewhere."""
        return tuple(
            words
            for need in work.cover_needs
            if need.checked_by == check.task_id
            and need.soaked_by is not None
            and (words := self._found(check, work, need))
        )

    def when_laid(self, laying: Visit, work: SurfaceWork) -> tuple[str, ...]:
        """Say of a laying whose covers nobody has soaked that they come wet."""
        return tuple(
            f"{_name(work, need)} as it comes off, wet: not dried, not soaked again"
            for need in work.cover_needs
            if need.laid_by == laying.task_id and self._comes_wet(work, need)
        )

    def _found(self, check: Visit, work: SurfaceWork, need: CoverNeed) -> str:
        name = _name(work, need).capitalize()
        soak = self._visit(work, need.soaked_by)
        if soak is not None and soak.ends_at <= check.starts_at:
            return f"{name} in water since {self._clock.day_time(soak.starts_at)}."
        if soak is not None:
            at = self._clock.day_time(soak.starts_at)
            return f"{name} goes into water {at}, after this check."
        if self._comes_wet(work, need):
            return f"{name} comes wet from where it is lifted: none in water for this."
        if self._visit(work, need.laid_by) is not None:
            return f"{name} in water since before this plan."
        return ""

    def _comes_wet(self, work: SurfaceWork, need: CoverNeed) -> bool:
        laid = self._visit(work, need.laid_by)
        if laid is None or need.soaked_by is None:
            return False
        late = self._horizon.minute(laid.starts_at) >= need.in_water_until_min
        return late and self._visit(work, need.soaked_by) is None

    def _visit(self, work: SurfaceWork, task_id: str | None) -> Visit | None:
        return None if task_id is None else self._of.get((work.surface_id, task_id))


def _name(work: SurfaceWork, need: CoverNeed) -> str:
    """Give the fabric as a gang calls it: what is under a sheet is burlap."""
    soak = next(task for task in work.tasks if task.id == need.soaked_by)
    return soak.materials[0].name
