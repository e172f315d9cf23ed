"""Cheapest wetting of every cover at given prices of crew time, all covers abreast.

Time runs in slots of a quarter of an hour. A wetting is taken to begin at the first
minute that its slot allows, to last from its last possible end, and to cost what its
cheapest start in the slot costs: better than any true visit in that slot, so that the
cheapest path of slots never costs more than the visits of a roster.

Whoever is called out for a surface pays a fee once a night. So there are two columns
for each surface: the fee of the night is still to pay, or it is paid.
"""

from dataclasses import dataclass

import numpy as np

from scheduler.solver.bound.choices import Choices, Starts
from scheduler.solver.bound.crews import SLOT_MIN, Crews, Floats, Ints
from scheduler.solver.problem.problem import Problem, Surface


@dataclass(frozen=True)
class State:
    """A surface on its way: next slot to look at, and what lies behind.

    Attributes
    ----------
    spent : float
        Cost of all minutes before the first dry one, were they dry.
    paid : int
        Night paid for, or -1.
    """

    slot: int
    spent: float
    paid: int = -1


class CoverPaths:
    """Dynamic programme over slots for all surfaces with a cover that dries."""

    def __init__(
        self,
        problem: Problem,
        crews: Crews,
        surfaces: list[Surface],
        starts: Starts,
        *,
        in_minutes: bool,
    ) -> None:
        self.problem, self.crews, self.surfaces = problem, crews, surfaces
        self.in_minutes = in_minutes
        self.horizon, self.count = problem.horizon, len(surfaces)
        jobs = [
            (column, problem.jobs[j])
            for column, surface in enumerate(surfaces)
            for j in surface.jobs
            if problem.jobs[j].refills and not problem.jobs[j].covers
        ]
        self.choices = Choices(crews, [job for _, job in jobs], starts, late=False)
        column_of = np.array([column for column, _ in jobs], np.int64)
        self.column = column_of[self.choices.owner]
        self.slots = crews.slots
        self._place_wettings()
        self._prepare_steps()
        self._order_choices()
        self._make_room()

    def dry_sum(self, column: int) -> Floats:
        """Cost of all minutes before each, were they dry; made anew, being long."""
        return _covered_sum(
            self.problem, self.surfaces[column], in_minutes=self.in_minutes
        )

    def _place_wettings(self) -> None:
        """Note from and until when a wetting in each slot keeps each surface damp."""
        shape = (self.slots, self.count)
        at = np.full(shape, self.horizon)
        self.until = np.zeros(shape, np.int64)
        picked = self.choices
        ends = np.minimum(picked.last + picked.duration, self.horizon)
        until = np.zeros(len(ends), np.int64)
        for column, surface in enumerate(self.surfaces):
            mine = self.column == column
            until[mine] = np.asarray(surface.minutes.dry_at)[ends[mine]]
        np.minimum.at(at, (picked.slot, self.column), picked.first)
        np.maximum.at(self.until, (picked.slot, self.column), until)
        self.at_sum, self.spent = np.empty(shape), np.empty(shape)
        self.end_sum = np.empty(self.count)
        for column in range(self.count):
            dry_sum = self.dry_sum(column)
            self.at_sum[:, column] = dry_sum[at[:, column]]
            self.spent[:, column] = dry_sum[self.until[:, column]]
            self.end_sum[column] = dry_sum[-1]
        self.at_sums = np.ascontiguousarray(self.at_sum.T)  # row by row is quick

    def _prepare_steps(self) -> None:
        """Note where each slot's continuation looks, whatever the prices."""
        slots, count = self.slots, self.count
        columns = np.arange(2 * count)
        following = np.arange(1, slots + 1)[:, None]
        edge = np.minimum(self.until // SLOT_MIN + 1, slots)
        edge = np.maximum(edge, following)
        night_at = self.crews.night_at
        last = np.array([night.last_slot for night in self.crews.nights] + [-1])
        night_end = last[night_at][:, None] + 1
        in_night = np.maximum(np.minimum(edge, night_end), following)
        soon_end = np.concatenate([edge, in_night], axis=1)
        # Row ``slots`` holds nothing: there is no later slot in this night.
        late = np.where(edge < night_end, edge, slots)
        late = np.concatenate([edge, late], axis=1)
        length = soon_end - following
        level = _log2(length)
        self.levels = slots.bit_length()
        row = slots + 1  # of ``best`` and ``later``, one after the other
        self.never = self.end_sum - self.spent
        self.later_at = late * 2 * count + columns
        base = level * row
        self.soon_at = (base + following) * 2 * count + columns
        first = np.maximum(soon_end - (1 << level), 0)
        self.last_at = (base + first) * 2 * count + columns
        self.none_soon = np.where(length > 0, 0.0, np.inf)
        self.last_of_night = np.zeros(slots, bool)
        self.last_of_night[last[:-1]] = True
        halves = np.arange(slots)[:, None] + (1 << np.arange(self.levels - 1))
        self.halves = np.minimum(halves, slots)

    def _order_choices(self) -> None:
        """Sort the choices by surface, slot and kind, so as to find the cheapest."""
        called = (self.choices.night >= 0).astype(np.int64)
        cell = (self.choices.slot * self.count + self.column) * 2 + called
        self.order = np.argsort(cell, kind="stable")
        self.cells, self.cell_starts = np.unique(cell[self.order], return_index=True)
        self.cell_ends = np.append(self.cell_starts, len(cell))[1:]

    def _make_room(self) -> None:
        """Make the tables that are filled anew at every price, once for all prices."""
        slots, columns = self.slots, 2 * self.count
        self.by_cell = np.full((slots, self.count, 2), np.inf)
        self.value = np.empty((slots, columns))
        # From a slot on: cheapest wetting (price and all that follows), for stretches
        # of 2**level slots; and the same with the dry time before it. After the last
        # slot there is nothing, nor is there before it is filled: a stretch of no
        # slots looks at what is yet to be filled, and what it finds does not count.
        self.best = np.full((self.levels, slots + 1, columns), np.inf)
        self.later = np.full((slots + 1, columns), np.inf)

    def solve(self, price_sums: Floats, fees: Floats) -> None:
        """Find the cheapest continuation after a wetting in each slot.

        ``fees`` are those of each night (and a last row of nothing) and surface.
        """
        slots, count = self.slots, self.count
        self.priced = self.choices.prices(price_sums)
        if len(self.order):
            self.by_cell.reshape(-1)[self.cells] = np.minimum.reduceat(
                self.priced[self.order], self.cell_starts
            )
        self.shift_price, self.call_price = np.moveaxis(self.by_cell, 2, 0)
        self.fees = fees
        fee_price = self.call_price + fees[self.crews.night_at]
        either = np.minimum(self.shift_price, self.call_price)
        best, later = self.best.reshape(-1), self.later.reshape(-1)
        here = np.empty(2 * count)
        levels = np.arange(self.levels - 1)
        for slot in range(slots - 1, -1, -1):
            then = np.minimum(best[self.soon_at[slot]], best[self.last_at[slot]])
            then += self.none_soon[slot]
            found = later[self.later_at[slot]]
            found[:count] -= self.spent[slot]
            found[count:] -= self.spent[slot]
            np.minimum(then, found, out=then)
            to_pay, paid = then[:count], then[count:]
            np.minimum(to_pay, self.never[slot], out=to_pay)
            np.minimum(paid, to_pay, out=paid)  # which leaves it dry for good, too
            self.value[slot] = then
            np.minimum(
                self.shift_price[slot] + to_pay, fee_price[slot] + paid,
                out=here[:count],
            )  # fmt: skip
            np.add(either[slot], paid, out=here[count:])
            self.best[0, slot] = here
            wider = np.minimum(
                self.best[levels, slot + 1], self.best[levels, self.halves[slot]]
            )
            np.minimum(wider, here, out=self.best[1:, slot])
            row = self.later[slot + 1].copy()
            if self.last_of_night[slot]:
                row[count:] = np.inf
            here[:count] += self.at_sum[slot]
            here[count:] += self.at_sum[slot]
            np.minimum(row, here, out=self.later[slot])
        self.wetted = np.ascontiguousarray(self.best[0, :-1].T)

    def after(
        self, slot: Ints, until: Ints, spent: Floats, column: int, paid: Ints
    ) -> Floats:
        """Cheapest cost from slots on, for a cover damp until minutes.

        ``spent`` are the costs of all before those minutes, ``paid`` is the night that
        is paid for, or -1.
        """
        edge = np.minimum(until // SLOT_MIN + 1, self.slots)
        edge = np.maximum(edge, slot)
        cheapest: Floats = np.minimum(
            self.end_sum[column] - spent, self._from(slot, edge, edge, spent, column)
        )
        last = np.array([night.last_slot for night in self.crews.nights] + [-1])
        night_end = last[paid] + 1
        soon_end = np.maximum(np.minimum(edge, night_end), slot)
        late = np.where(edge < night_end, edge, self.slots)
        found = self._from(slot, soon_end, late, spent, column + self.count)
        np.minimum(cheapest, found, out=cheapest, where=paid >= 0)
        return cheapest

    def _from(
        self, slot: Ints, soon_end: Ints, late: Ints, spent: Floats, column: int
    ) -> Floats:
        later = self.later[late, column] - spent
        length = soon_end - slot
        level = _log2(length)
        last = np.maximum(soon_end - (1 << level), 0)
        soon = np.minimum(self.best[level, slot, column],
                          self.best[level, last, column])  # fmt: skip
        soon = np.where(length > 0, soon, np.inf)
        found: Floats = np.minimum(soon, later)
        return found

    def path(self, column: int, state: State) -> list[tuple[int, int]]:
        """Follow the cheapest wettings of one cover.

        Returns
        -------
        list of (int, int)
            The choices, and the night whose fee each pays, or -1.
        """
        found: list[tuple[int, int]] = []
        slot, spent, paid = state.slot, state.spent, state.paid
        night_at, count = self.crews.night_at, self.count
        to_pay, free = self.wetted[column], self.wetted[column + count]
        at_sum = self.at_sums[column]
        while slot < self.slots:
            costs = to_pay[slot:].copy()
            if paid >= 0:
                end = self.crews.nights[paid].last_slot + 1
                costs[: max(0, end - slot)] = free[slot:end]
            costs += np.maximum(0.0, at_sum[slot:] - spent)
            best = int(costs.argmin())
            if self.end_sum[column] - spent <= costs[best]:
                break
            step = slot + best
            night = int(night_at[step])
            pays = paid != night
            then = self.value[step, [column, column + count]]
            shift = self.shift_price[step, column] + then[int(not pays and night >= 0)]
            fee = self.fees[night, column] if pays else 0.0
            called = bool(self.call_price[step, column] + fee + then[1] < shift)
            if called:
                paid = night
            elif night < 0 or pays:
                paid = -1
            choice = self._choice(step, column, called=called)
            found.append((choice, night if called and pays else -1))
            slot, spent = step + 1, float(self.spent[step, column])
        return found

    def _choice(self, slot: int, column: int, *, called: bool) -> int:
        cell = (slot * self.count + column) * 2 + called
        place = self.cells.searchsorted(cell)
        mine = self.order[self.cell_starts[place] : self.cell_ends[place]]
        return int(mine[self.priced[mine].argmin()])


def _covered_sum(problem: Problem, surface: Surface, *, in_minutes: bool) -> Floats:
    """Dry minutes before each, but for those that something else may guard."""
    clock = surface.minutes
    total = clock.covered_count if in_minutes else clock.covered_sum
    cost = np.diff(np.asarray(total, np.float64))
    for job in (problem.jobs[j] for j in surface.jobs):
        if job.seals:
            cost[max(0, job.earliest) :] = 0.0
        elif job.protects and not job.refills:
            cost[max(0, job.earliest) : max(0, job.latest)] = 0.0
    return np.concatenate(([0.0], np.cumsum(cost)))


def _log2(length: Ints) -> Ints:
    found: Ints = np.frexp(np.maximum(length, 1))[1].astype(np.int64) - 1
    return found
