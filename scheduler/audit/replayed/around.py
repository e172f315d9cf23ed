"""What surrounds a gap, and what can stand in the way of the work that closes it."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from models.local_clock import WeekClock
from models.records import Limit, Site
from scheduler.audit.replayed.covers import StockSimulation
from scheduler.audit.replayed.parties import Turn
from scheduler.audit.replayed.water import WaterSimulation
from scheduler.audit.replayed.windows import Window

Reason = Literal[
    "window",
    "stock",
    "nobody",
    "ban",
    "hands",
    "hours",
    "rest",
    "week",
    "busy",
    "walk",
    "flow",
    "day",
    "tank",
]
#: From the first thing a foreman would ask to the last, with the limit it stands for.
LIMITS: dict[Reason, Limit] = {
    "window": "window",
    "stock": "covers",
    "nobody": "no_crew_on_shift",
    "ban": "heat_ban",
    "hands": "no_skill",
    "hours": "no_crew_on_shift",
    "rest": "rest",
    "week": "week",
    "busy": "crews_busy",
    "walk": "travel",
    "flow": "water_flow",
    "day": "water_allotment",
    "tank": "tank_empty",
}


@dataclass(frozen=True)
class Around:
    """Everything a gap is judged by."""

    site: Site
    clock: WeekClock
    windows: Sequence[Window]
    bans: Sequence[tuple[int, int]]
    turns: Sequence[Turn]
    water: Sequence[WaterSimulation]
    covers: Sequence[StockSimulation]
