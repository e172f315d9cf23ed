"""What crews have to give, by the quarter of an hour and by what they are able to do.

Shifts that can do the same work are pooled: what one of them has left, another one may
use. Call-outs form pools of their own, night by night: who works in a night at all
needs a call-out, which is paid whole.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from scheduler.solver.problem.lanes import Lane, is_candidate
from scheduler.solver.problem.problem import Problem

SLOT_MIN = 15

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


@dataclass(frozen=True)
class Night:
    """Call-outs whose times hang together, with the slots they reach into."""

    lanes: tuple[int, ...]
    first_slot: int
    last_slot: int


class Crews:
    """Pools of shifts and the minutes that they have.

    Attributes
    ----------
    pool_of : list of int
        Pool of each lane.
    night_of_pool : list of int
        The night whose call-outs a pool holds; -1 for shifts.
    night_at : array of int
        Night of each slot, or -1.
    """

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        last = max([problem.horizon, *(lane.closes for lane in problem.lanes)])
        self.slots = -(-last // SLOT_MIN)
        self.nights = _nights(problem)
        self.night_at = np.full(self.slots, -1)
        night_of: dict[int, int] = {}
        for number, night in enumerate(self.nights):
            self.night_at[night.first_slot : night.last_slot + 1] = number
            night_of |= dict.fromkeys(night.lanes, number)
        kinds: dict[tuple[int, tuple[bool, ...]], int] = {}
        self.pool_of: list[int] = []
        for lane, able in zip(problem.lanes, _abilities(problem), strict=True):
            kind = (night_of.get(lane.index, -1), able)
            self.pool_of.append(kinds.setdefault(kind, len(kinds)))
        self.night_of_pool = [night for night, _ in kinds]
        self.pools = len(kinds)
        self.regular = np.array([_regular(self, x) for x in problem.lanes])
        self.overtime = np.array([_overtime(self, x) for x in problem.lanes])
        shifts = [x.index for x in problem.lanes if x.index not in night_of]
        self.pooled = np.zeros((self.pools, self.slots))
        self.pooled_overtime = np.zeros((self.pools, self.slots))
        for index in shifts:
            self.pooled[self.pool_of[index]] += self.regular[index]
            self.pooled_overtime[self.pool_of[index]] += self.overtime[index]

    def sell(self, prices: Floats, fees: Floats, lack: Floats, unpaid: Floats) -> float:
        """Sell time at prices; what is sold comes off ``lack`` and ``unpaid``.

        Parameters
        ----------
        prices : array, pools x slots
            Of a minute.
        fees : array, nights x customers
            What each customer gives for the night to be served at all.
        lack, unpaid : arrays like these
            Minutes used, and customers who use the night.

        Returns
        -------
        float
            What is earned beyond the price of overtime and call-outs.
        """
        over = prices - self.problem.overtime_cost_per_min
        earned = float((self.pooled * prices).sum())
        earned += float((self.pooled_overtime * np.maximum(0.0, over)).sum())
        lack -= self.pooled + np.where(over > 0, self.pooled_overtime, 0.0)
        for number, night in enumerate(self.nights):
            gains = {lane: self._gain(lane, prices, over) for lane in night.lanes}
            called = [lane for lane, gain in gains.items() if gain > 0]
            if not called:
                called = [max(night.lanes, key=lambda lane: gains[lane])]
            gain = float(fees[number].sum()) + sum(gains[lane] for lane in called)
            if gain <= 0:
                continue
            earned += gain
            unpaid[number] -= 1
            for lane in called:
                pool = self.pool_of[lane]
                lack[pool] -= self.regular[lane]
                lack[pool] -= np.where(over[pool] > 0, self.overtime[lane], 0.0)
        return earned

    def _gain(self, lane: int, prices: Floats, over: Floats) -> float:
        """Earnings of the time of one call-out beyond what it costs."""
        pool = self.pool_of[lane]
        sold = float(self.regular[lane] @ prices[pool])
        sold += float(self.overtime[lane] @ np.maximum(0.0, over[pool]))
        return sold - self.problem.lanes[lane].call_out_cost


def _nights(problem: Problem) -> list[Night]:
    """Call-outs that share a slot with one another, straight or by others between."""
    found: list[Night] = []
    for lane in problem.lanes:  # in order of start
        if not lane.call_out_cost:
            continue
        first, last = max(0, lane.starts) // SLOT_MIN, (lane.closes - 1) // SLOT_MIN
        if found and first <= found[-1].last_slot:
            before = found.pop()
            found.append(
                Night(
                    (*before.lanes, lane.index),
                    before.first_slot,
                    max(before.last_slot, last),
                )
            )
        else:
            found.append(Night((lane.index,), first, last))
    return found


def _abilities(problem: Problem) -> list[tuple[bool, ...]]:
    """Say for each lane which demands of the work it is asked to meet."""
    tasks = {(job.task.people, job.task.skills): job.task for job in problem.jobs}
    demands = [tasks[key] for key in sorted(tasks)]
    return [
        tuple(is_candidate(lane, task, problem.lanes) for task in demands)
        for lane in problem.lanes
    ]


def _regular(crews: Crews, lane: Lane) -> Floats:
    """Minutes of work in a shift; nobody works before the walk from home.

    Of a gang with parties overtime counts as well, for nothing: one of them pays it
    for all.
    """
    opens = max(0, lane.starts + min(crews.problem.travel[lane.home]))
    ends = lane.ends if len(lane.gang_shift) == 1 else lane.closes
    minutes = np.zeros(crews.slots * SLOT_MIN)
    minutes[opens : max(opens, ends)] = 1.0
    for a, b in lane.breaks:
        minutes[max(0, a) : max(0, b)] = 0.0
    return _by_slot(minutes)


def _overtime(crews: Crews, lane: Lane) -> Floats:
    minutes = np.zeros(crews.slots * SLOT_MIN)
    if len(lane.gang_shift) == 1:
        minutes[max(0, lane.ends) : max(0, lane.closes)] = 1.0
    return _by_slot(minutes)


def _by_slot(minutes: Floats) -> Floats:
    summed: Floats = minutes.reshape(-1, SLOT_MIN).sum(axis=1)
    return summed
