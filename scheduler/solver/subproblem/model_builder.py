"""A CP-SAT model under construction that keeps a complete hint of itself.

Every variable is made together with the value it has in today's roster; a hint with
holes is often dropped by the solver.
"""

from collections.abc import Iterable, Sequence

from ortools.sat.python import cp_model

Literal = cp_model.BoolVarT

#: Costs become whole numbers: tenths.
SCALE = 10


class ModelBuilder:
    """A model, its objective and its hint."""

    def __init__(self) -> None:
        self.model = cp_model.CpModel()
        self._terms: list[cp_model.IntVar | Literal] = []
        self._prices: list[int] = []
        self._hints: dict[int, int] = {}

    def flag(self, hint: bool) -> cp_model.IntVar:
        """Make a literal."""
        literal = self.model.new_bool_var("")
        self._hints[literal.index] = int(hint)
        return literal

    def number(self, low: int, high: int, hint: int) -> cp_model.IntVar:
        """Make a whole number."""
        variable = self.model.new_int_var(low, high, "")
        self._hints[variable.index] = hint
        return variable

    def hinted(self, literal: Literal) -> bool:
        """Value of a literal in today's roster."""
        index = literal.index
        # The number of a literal's opposite is the complement of its own.
        return bool(self._hints[index]) if index >= 0 else not self._hints[~index]

    def price(self, variable: cp_model.IntVar, cost: float) -> None:
        """Charge a cost for each unit of a variable."""
        tenths = round(cost * SCALE)
        if tenths:
            self._terms.append(variable)
            self._prices.append(tenths)

    def at_least_one(self, literals: Iterable[Literal]) -> None:
        """One of the literals must hold."""
        self.model.add_bool_or(literals)

    def weighted_at_most(
        self, literals: Sequence[cp_model.IntVar], weights: Sequence[int], most: int
    ) -> None:
        """Bound the sum of weights of the literals that hold."""
        total = cp_model.LinearExpr.weighted_sum(literals, weights)
        self.model.add(total <= most)

    def lateness(
        self, late: cp_model.LinearExprT, most: int, hint: int, *when: Literal
    ) -> cp_model.IntVar:
        """Make a number not below ``late``, if some literals hold, and not below 0."""
        amount = self.number(0, max(most, hint), hint)
        self.model.add(amount >= late).only_enforce_if(*when)
        return amount

    def minimize(self) -> None:
        """Set the objective from all prices, and the hint."""
        hint = self.model.proto.solution_hint
        hint.vars.extend(list(self._hints))
        hint.values.extend(list(self._hints.values()))
        self.model.minimize(cp_model.LinearExpr.weighted_sum(self._terms, self._prices))
