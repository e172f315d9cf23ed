"""What hypothesis draws, the same in every run or something new; a database server."""

import os
from collections.abc import Iterator

import pytest
from hypothesis import settings

from tests.postgres_server import BIN, server

# Its profile for servers draws without chance and judges no test by its time.
STEADY = settings.get_profile("ci")
settings.register_profile("steady", STEADY)
settings.register_profile("explore", STEADY, derandomize=False)
settings.load_profile(os.environ.get("KEEPDAMP_DRAWS", "steady"))


@pytest.fixture(scope="session")
def database() -> Iterator[str]:
    """A database on a server that runs for the tests alone."""
    if not BIN:
        pytest.skip("no PostgreSQL server on this machine")
    with server() as database:
        yield database
