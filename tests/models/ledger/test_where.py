"""Where a site's ledger is looked for."""

import sys
from pathlib import Path

import pytest

from models.errors import InputError
from models.ledger.where import find_ledger, open_ledger
from tests.models.ledger.ledger_builders import TUESDAY, entry
from tests.models.ledger.ledgers import PostgresLedger


def test_looking_for_a_ledger_begins_none(tmp_path: Path) -> None:
    assert find_ledger(tmp_path, "Heron Wharf") is None
    assert list(tmp_path.iterdir()) == []


def test_a_ledger_is_a_file_in_the_site_folder(tmp_path: Path) -> None:
    with open_ledger(tmp_path, "Heron Wharf") as store:
        store.append([entry()], TUESDAY)
    assert [path.name for path in tmp_path.iterdir()] == ["ledger.sqlite"]
    found = find_ledger(tmp_path, "Heron Wharf")
    assert found is not None
    with found:
        assert len(found.entries()) == 1


def test_a_ledger_is_in_the_database_that_is_named(
    tmp_path: Path, database: str
) -> None:
    PostgresLedger.fresh(database)
    with open_ledger(tmp_path, "Heron Wharf", database) as store:
        store.append([entry()], TUESDAY)
    with PostgresLedger(database).open() as store:
        assert len(store.entries()) == 1
    assert list(tmp_path.iterdir()) == []


def test_a_database_without_the_optional_part_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delitem(sys.modules, "models.ledger.postgres_store", raising=False)
    monkeypatch.setitem(sys.modules, "psycopg", None)
    with pytest.raises(InputError, match=r"pip install 'keepdamp\[postgres\]'"):
        open_ledger(tmp_path, "Heron Wharf", "dbname=firm")
