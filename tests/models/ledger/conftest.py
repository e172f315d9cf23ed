"""A ledger in each of the places where one can be kept."""

from pathlib import Path

import pytest

from tests.models.ledger.ledgers import Ledger, SqliteLedger


@pytest.fixture(params=["sqlite"])
def ledger(request: pytest.FixtureRequest, tmp_path: Path) -> Ledger:
    del request
    return SqliteLedger(tmp_path)
