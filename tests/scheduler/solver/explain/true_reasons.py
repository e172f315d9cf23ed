"""Whether what is said of a gap is true: judged from the work list and the visits.

Every sentence that the explainer knows is read back and held against shifts, visits,
water and covers as the records have them. Only for "could come" the plan's own rules
are asked: a visit must then be allowed, and pay or not pay as it is said.
"""

import re
from collections import Counter
from collections.abc import Sequence

# Each makes its sentences known.
import tests.scheduler.solver.explain.said_of_covers
import tests.scheduler.solver.explain.said_of_shifts
import tests.scheduler.solver.explain.said_of_visits
import tests.scheduler.solver.explain.said_of_water
import tests.scheduler.solver.explain.said_of_work  # noqa: F401
from models.records import Limit, Reason, Task, WorkList
from scheduler.solver.plan.plan import Plan
from tests.scheduler.solver.explain.told import NAME, SENTENCES, Facts, Told

_OF_CREWS = frozenset(
    {"crews_busy", "travel", "shift_ends", "rest", "week", "day", "call_out"}
)


class Judge:
    """Judges the reasons of one roster, and counts by limit those of its gaps."""

    def __init__(self, work: WorkList, plan: Plan) -> None:
        self.facts = Facts(work, plan)
        self.seen: Counter[str] = Counter()

    def judge(self, surface_id: str, reasons: Sequence[Reason]) -> None:
        """Hold each reason of a gap against the facts."""
        for reason in reasons:
            self.seen[reason.limit] += 1
            told = Told(self.facts, self.facts.surfaces[surface_id], reason)
            _read(told)
            if reason.limit == "no_crew_on_shift":
                assert not told.on_between(told.start, told.end), told.words
            if reason.limit == "no_skill":
                assert "on shift:" in reason.words, told.words
            if reason.limit in _OF_CREWS:
                assert re.search(NAME, reason.words), told.words

    def judge_missed(self, task: Task, limit: Limit, words: str) -> None:
        """Hold the reason of a duty that nobody does against the facts.

        It may be about work that comes first, so it is not tied to the duty's window.
        """
        horizon, surface = self.facts.work.horizon, self.facts.surfaces[task.surface_id]
        reason = Reason(
            starts_at=horizon.starts_at,
            ends_at=horizon.ends_at,
            limit=limit,
            words=words,
        )
        _read(Told(self.facts, surface, reason, all_along=False))


def _read(told: Told) -> None:
    """Read the words to their end; what is not known is no good either."""
    words = told.reason.words
    if first := re.match(r"([\w ,]+?) comes first: ", words):
        assert any(task.full_title.lower() == first[1] for task in told.tasks), words
        words = words[first.end() :]
    while words:
        known = [
            (match, judged)
            for pattern, judged in SENTENCES
            if (match := re.match(pattern, words))
        ]
        assert known, f"not known: {words!r} in {told.reason.words!r}"
        match, judged = max(known, key=lambda one: one[0].end())
        judged(told, match)
        words = re.sub(r"^(?:; |, and |, )", "", words[match.end() :])
