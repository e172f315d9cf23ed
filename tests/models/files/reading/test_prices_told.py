"""Every price and rule of ``site.toml`` is told to the people who may edit it."""

from pathlib import Path

import pytest

from models.files.reading.site_tables import COSTS
from models.records import Costs

README = Path(__file__).parents[4] / "README.md"


@pytest.mark.parametrize("key", [column.key for column in COSTS.columns])
def test_every_key_of_the_costs_stands_in_the_readme(key: str) -> None:
    assert f"`{key}`" in README.read_text(encoding="utf-8")


def test_every_price_can_be_set_in_the_file() -> None:
    assert {column.field for column in COSTS.columns} == set(Costs.model_fields)
