"""What only a ledger in a file can have wrong with it."""

import os
import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from datetime import timedelta
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from models.errors import InputError
from models.ledger.sqlite_schema import STEPS
from models.ledger.sqlite_store import SqliteDatabase, open_sqlite
from tests.models.ledger.ledger_builders import TUESDAY, entry, issue, visit

LATER = TUESDAY + timedelta(hours=1)
NOBODY = 65534
MORE = (*STEPS, ("CREATE TABLE tokens (token TEXT) STRICT",))
BROKEN = (*MORE, ("CREATE TABLE more (a TEXT) STRICT", "CREATE NONSENSE"))


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A ledger with an entry and an issue in it."""
    file = tmp_path / "ledger.sqlite"
    with open_sqlite(file) as store:
        store.append([entry()], LATER)
        store.publish(issue(1), [visit(1)])
    return file


def asked(path: Path, sql: str) -> list[tuple[object, ...]]:
    with closing(sqlite3.connect(path)) as db:
        return db.execute(sql).fetchall()


@contextmanager
def without_rights() -> Iterator[None]:
    """Be nobody for a while: root may write everywhere."""
    was = os.geteuid()
    if was == 0:
        os.seteuid(NOBODY)
    try:
        yield
    finally:
        if was == 0:
            os.seteuid(was)


@pytest.mark.parametrize(
    ("pragma", "value"),
    [("journal_mode", "delete"), ("synchronous", 3), ("busy_timeout", 5000),
     ("foreign_keys", 1), ("recursive_triggers", 1)],
)  # fmt: skip
def test_the_settings_that_make_a_write_durable(
    path: Path, pragma: str, value: object
) -> None:
    database = SqliteDatabase(path, STEPS)
    assert database.rows(f"PRAGMA {pragma}") == [(value,)]
    database.close()


@pytest.mark.parametrize(
    "statement",
    [
        "INSERT OR REPLACE INTO entries SELECT * FROM entries",
        "INSERT OR REPLACE INTO issues SELECT * FROM issues",
        "INSERT OR REPLACE INTO visits SELECT * FROM visits",
        "INSERT OR REPLACE INTO chain SELECT * FROM chain",
    ],
)
def test_insert_or_replace_overwrites_nothing(path: Path, statement: str) -> None:
    # By a connection that does not know of recursive_triggers.
    with (
        closing(sqlite3.connect(path)) as db,
        pytest.raises(sqlite3.IntegrityError, match="only ever added to"),
    ):
        db.execute(statement)


def test_an_older_schema_is_brought_up_to_date_with_all_that_is_in_it(
    path: Path,
) -> None:
    with open_sqlite(path, MORE) as store:
        assert [one.number for one in store.entries()] == [1]
        assert store.newest_issue() == issue(1)
    assert asked(path, "PRAGMA user_version") == [(len(MORE),)]
    assert asked(path, "SELECT * FROM tokens") == []


def test_a_step_that_fails_leaves_the_older_schema_whole(path: Path) -> None:
    before = path.read_bytes()
    with pytest.raises(sqlite3.OperationalError, match="NONSENSE"):
        open_sqlite(path, BROKEN)
    assert path.read_bytes() == before
    with open_sqlite(path) as store:
        assert len(store.entries()) == 1


def test_the_first_step_that_fails_leaves_no_half_ledger(tmp_path: Path) -> None:
    file = tmp_path / "ledger.sqlite"
    with pytest.raises(sqlite3.OperationalError, match="NONSENSE"):
        open_sqlite(file, BROKEN)
    assert asked(file, "SELECT name FROM sqlite_master") == []
    with open_sqlite(file) as store:
        assert store.entries() == ()


def test_a_ledger_says_in_its_header_what_it_is(path: Path) -> None:
    # Bytes 68 to 71 are the application id (sqlite.org/fileformat2.html, 1.3.17).
    assert path.read_bytes()[68:72] == b"KDLG"


def test_a_file_that_is_no_database_is_refused_and_untouched(tmp_path: Path) -> None:
    file = tmp_path / "ledger.sqlite"
    file.write_text("number,kind\n" * 1000)
    with pytest.raises(InputError, match="found a file that is no database"):
        open_sqlite(file)
    assert file.read_text() == "number,kind\n" * 1000


def test_the_database_of_another_program_is_refused_and_untouched(
    tmp_path: Path,
) -> None:
    file = tmp_path / "ledger.sqlite"
    with closing(sqlite3.connect(file)) as db:
        db.execute("PRAGMA journal_mode = WAL")
        db.execute("CREATE TABLE contacts (name TEXT)")
        db.commit()
    before = file.read_bytes()
    with pytest.raises(InputError, match="found another program's database"):
        open_sqlite(file)
    assert file.read_bytes() == before


def test_a_row_with_bytes_that_are_no_text_is_named(path: Path) -> None:
    # As a bad sector leaves it: "AK", in the first entry's text, becomes 0xFF 0xFF.
    data = path.read_bytes()
    at = data.index(b'"by":"AK"') + len(b'"by":"')
    path.write_bytes(data[:at] + b"\xff\xff" + data[at + 2 :])
    with pytest.raises(InputError, match="entry 1: it, or what stands before it"):
        open_sqlite(path)


def test_a_full_disk_is_told_and_leaves_what_was_there(path: Path) -> None:
    with open_sqlite(path) as store:
        database = store._db
        (pages,) = database.rows("PRAGMA page_count")[0]
        database.rows(f"PRAGMA max_page_count = {pages}")
        with pytest.raises(InputError, match="found no room on the disk; expected"):
            store.publish(issue(2, roster="x" * 100_000))
        assert store.next_issue_number() == 2
        database.rows(f"PRAGMA max_page_count = {pages + 1000}")
        store.publish(issue(2, roster="x" * 100_000))
    with open_sqlite(path) as store:
        assert len(store.issues()) == 2


def test_a_file_without_the_right_to_write_can_be_read_and_says_so(path: Path) -> None:
    # Nobody gets into pytest's own folder.
    with TemporaryDirectory() as folder:
        Path(folder).chmod(0o755)
        copy = Path(shutil.copy(path, folder))
        copy.chmod(0o444)
        with without_rights(), open_sqlite(copy) as store:
            assert len(store.entries()) == 1
            with pytest.raises(InputError, match="found a file or folder that cannot"):
                store.append([entry()], LATER)


def test_a_folder_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="found it cannot be opened or begun"):
        open_sqlite(tmp_path / "no" / "ledger.sqlite")


def test_another_writer_who_does_not_end_is_told(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("models.ledger.sqlite_store._WAIT_S", 0.05)
    with (
        closing(sqlite3.connect(path, isolation_level=None)) as other,
        open_sqlite(path) as store,
    ):
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(InputError, match="somebody else is writing in it"):
            store.append([entry()], LATER)
        other.execute("ROLLBACK")
        store.append([entry()], LATER)
        assert len(store.entries()) == 2
