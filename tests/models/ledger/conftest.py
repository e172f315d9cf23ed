"""A ledger in each of the places where one can be kept."""

from pathlib import Path

import pytest

from tests.models.ledger.ledgers import Ledger, PostgresLedger, SqliteLedger


@pytest.fixture(params=["sqlite", "postgres"])
def ledger(request: pytest.FixtureRequest, tmp_path: Path) -> Ledger:
    if request.param == "sqlite":
        return SqliteLedger(tmp_path)
    return PostgresLedger.fresh(request.getfixturevalue("database"))
