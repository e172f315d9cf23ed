"""Every price of a site belongs to one part of what a roster is judged by."""

from collections import Counter
from typing import get_args

from models.records import OBJECTIVE, Costs, PartName


def test_every_price_belongs_to_one_part() -> None:
    prices = Counter(price for rule in OBJECTIVE.values() for price in rule.prices)
    assert prices == Counter(list(Costs.model_fields))


def test_every_part_has_its_rule() -> None:
    assert set(OBJECTIVE) == set(get_args(PartName))


def test_a_formula_names_the_prices_that_it_multiplies() -> None:
    per_unit: set[PartName] = {
        "late",
        "call_out",
        "overtime",
        "travel",
        "water",
        "changes",
    }
    for name in per_unit:
        rule = OBJECTIVE[name]
        assert [p for p in rule.prices if p not in rule.formula] == []
