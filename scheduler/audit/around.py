"""What surrounds a gap: crews at work and water as the audit counted them."""

from collections.abc import Sequence
from dataclasses import dataclass

from models.records import Site
from scheduler.audit.crews import Turn
from scheduler.audit.site_clock import SiteClock
from scheduler.audit.water import PointPlay
from scheduler.audit.windows import Window


@dataclass(frozen=True)
class Around:
    """Everything a gap is judged by."""

    site: Site
    clock: SiteClock
    windows: Sequence[Window]
    turns: Sequence[Turn]
    water: Sequence[PointPlay]
