"""Whether fabric is wet when it is laid: soaked for it, or wet from elsewhere.

Counted from the visits alone. Who lays first takes first, of what came off first.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from models.drying.covers import soak_lead_min, stays_wet_min
from models.records import CoverStock, Task
from scheduler.audit.replayed.jobs import Job

SLACK_M2 = 1e-6


@dataclass(frozen=True)
class Fabric:
    """Fabric of one surface that the roster lays, or that lies there already.

    Attributes
    ----------
    soak : Task or None
        The work that puts it into water.
    soaked : Job or None
        The visit that does.
    """

    surface_id: str
    area_m2: float
    planned: bool
    laid_min: int
    off_min: int | None
    soak: Task | None = None
    soaked: Job | None = None


@dataclass(frozen=True)
class Wetness:
    """From when on a surface has its fabric, and whether it was wet when laid."""

    taken_min: int
    wet: bool = True


def wetness(
    stock: CoverStock, fabrics: Sequence[Fabric], first_work_min: int
) -> list[Wetness]:
    """Say of each piece of fabric of one kind when it left the stock and how.

    Parameters
    ----------
    first_work_min : int
        First minute in which anybody is on shift: what had to be in water so early
        that nobody could have put it in was put in before the week.
    """
    lead_min = soak_lead_min(stock)
    if not lead_min:
        return [Wetness(max(0, one.laid_min)) for one in fabrics]
    came_off = sorted(
        (one.off_min, i) for i, one in enumerate(fabrics) if one.off_min is not None
    )
    left_m2 = [one.area_m2 for one in fabrics]
    found: dict[int, Wetness] = {}
    in_turn = sorted((one.laid_min, one.surface_id, i) for i, one in enumerate(fabrics))
    for _, _, i in in_turn:
        one = fabrics[i]
        if not one.planned:
            found[i] = Wetness(max(0, one.laid_min))
        elif one.soaked and one.soaked.end_min + lead_min <= one.laid_min:
            found[i] = Wetness(one.soaked.start_min)
        elif _carried_over(stock, one, came_off, left_m2):
            found[i] = Wetness(one.laid_min)
        else:
            takes_min = one.soak.duration_min if one.soak else 0
            before = one.laid_min < first_work_min + takes_min + lead_min
            found[i] = Wetness(max(0, one.laid_min - lead_min), before)
    return [found[i] for i in range(len(fabrics))]


def _carried_over(
    stock: CoverStock,
    one: Fabric,
    came_off: Sequence[tuple[int, int]],
    left_m2: list[float],
) -> bool:
    """Take the whole area from what came off wet and is washed, if that is enough."""
    taken: dict[int, float] = {}
    for off_min, i in came_off:
        ready_min = off_min + stock.turnaround_min
        if ready_min <= one.laid_min <= off_min + stays_wet_min():
            taken[i] = min(left_m2[i], one.area_m2 - sum(taken.values()))
    if sum(taken.values()) < one.area_m2 - SLACK_M2:
        return False
    for i, area_m2 in taken.items():
        left_m2[i] -= area_m2
    return True
