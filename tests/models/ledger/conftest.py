"""A ledger in each of the places where one can be kept."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.models.ledger.ledgers import Ledger, PostgresLedger, SqliteLedger
from tests.models.ledger.postgres_server import BIN, server


@pytest.fixture(scope="session")
def database() -> Iterator[str]:
    """A database on a server that runs for these tests alone."""
    if not BIN:
        pytest.skip("no PostgreSQL server on this machine")
    with server() as database:
        yield database


@pytest.fixture(params=["sqlite", "postgres"])
def ledger(request: pytest.FixtureRequest, tmp_path: Path) -> Ledger:
    if request.param == "sqlite":
        return SqliteLedger(tmp_path)
    return PostgresLedger.fresh(request.getfixturevalue("database"))
