"""Visits of one duty in two rosters, matched in order of time.

Numbers only. A pair costs the minutes between its starts, and something where the crew
changes; a visit without a pair costs half of the furthest a pair may lie apart, so that
a pair within that is never dearer than to drop one visit and add another. Pairs never
cross. What stands as it was is always paired: no other pair is worth that.
"""

from collections.abc import Sequence
from datetime import datetime

from models.local_clock import minutes_between
from models.records import Told

#: A duty that recurs is another visit when it comes half a shift later; work done once
#: is the same work in the next week too. Assumptions. [min]
FURTHEST_RECURRING_MIN = 4 * 60
FURTHEST_ONCE_MIN = 7 * 24 * 60
#: Rather another time with the same crew than another crew near by. Assumption. [min]
OTHER_CREW_MIN = 30


def aligned(
    was: Sequence[Told], now: Sequence[Told], furthest_min: int
) -> tuple[tuple[int, int], ...]:
    """Pair visits at the least cost.

    Parameters
    ----------
    was, now : sequence of Told
        Visits of one duty of one surface, in any order.
    furthest_min : int
        Starts further apart than this make no pair. [min]

    Returns
    -------
    tuple of (int, int)
        Places in ``was`` and ``now``, in order of time.
    """
    olds = sorted(range(len(was)), key=lambda place: _in_time(was[place]))
    news = sorted(range(len(now)), key=lambda place: _in_time(now[place]))
    columns = range(len(news) + 1)
    price = _Prices(furthest_min, len(olds) + len(news))
    least = [[price.single * (i + j) for j in columns] for i in range(len(olds) + 1)]
    paired = [[False for _ in columns] for _ in least]
    for i, old in enumerate(olds, start=1):
        for j, new in enumerate(news, start=1):
            best = min(least[i - 1][j], least[i][j - 1]) + price.single
            cost = price.pair(was[old], now[new])
            if cost is not None and least[i - 1][j - 1] + cost <= best:
                best, paired[i][j] = least[i - 1][j - 1] + cost, True
            least[i][j] = best
    pairs = []
    i, j = len(olds), len(news)
    while i and j:
        if paired[i][j]:
            i, j = i - 1, j - 1
            pairs.append((olds[i], news[j]))
        elif least[i - 1][j] <= least[i][j - 1]:
            i -= 1
        else:
            j -= 1
    return tuple(reversed(pairs))


class _Prices:
    """Of pairs and of single visits, in half minutes so that all are whole."""

    def __init__(self, furthest_min: int, visits: int) -> None:
        self.furthest_min = furthest_min
        self.single = furthest_min
        # One that stands outweighs all minutes; one of which nothing changed, all that
        # stand.
        self._stands = 2 * furthest_min * (visits + 1)
        self._unchanged = self._stands * (visits + 1)

    def pair(self, old: Told, new: Told) -> int | None:
        """Price a pair; None where it lies too far apart."""
        if old == new:
            return -self._unchanged
        apart_min = abs(minutes_between(old.starts_at, new.starts_at))
        if apart_min > self.furthest_min:
            return None
        same_crew = old.crew_id == new.crew_id
        if apart_min == 0 and same_crew:
            return -self._stands
        # Another crew alone breaks no pair that lies near enough.
        cost_min = apart_min + (0 if same_crew else OTHER_CREW_MIN)
        return 2 * min(cost_min, self.furthest_min)


def _in_time(told: Told) -> tuple[datetime, str, str, datetime, datetime, str]:
    """Order by time, then by what else is told, so that what stands never crosses."""
    return (
        told.starts_at,
        told.crew_id,
        told.what,
        told.ends_at,
        told.start_by_at,
        f"{told.place} {told.water} {told.people}",
    )
