"""A ledger as one SQLite file beside the site's other files.

Why these settings: a rollback journal, because the library that Python brings may be
older than 3.51.3, whose fault with write-ahead logs can spoil a file under two writers,
and because the ledger then is one file to copy; EXTRA, so that the deleted journal is
on the disk too before a write is acknowledged; recursive triggers, without which
INSERT OR REPLACE walks past a trigger that refuses deletion.
"""

import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from models.errors import InputError
from models.ledger.faults import busy, fault, newer
from models.ledger.sql_store import SqlStore
from models.ledger.sqlite_schema import STEPS

FILE_NAME = "ledger.sqlite"
#: In the file's header: it is a ledger of ours and no other database ("KDLG").
_APPLICATION_ID = 0x4B444C47
_WAIT_S = 5.0
#: A file holds one site; the key makes its rows fit a database of many.
_SITE = ""

Steps = Sequence[Sequence[str]]


def open_sqlite(path: Path, steps: Steps = STEPS) -> SqlStore:
    """Open a ledger file and verify it; make a new or older one ready first.

    Parameters
    ----------
    path : Path
        The file, in a folder that is there.
    steps : sequence
        What leads from schema to schema.

    Raises
    ------
    InputError
        If it is no ledger, was tampered with or is of a newer schema, or the disk does
        not let it be read or brought up to date.
    """
    database = SqliteDatabase(path, steps)
    try:
        return SqlStore(database, _SITE)
    except BaseException:
        database.close()
        raise


class SqliteDatabase:
    """A connection to a ledger file of the newest schema."""

    def __init__(self, path: Path, steps: Steps) -> None:
        self.name = path.name
        with self._told():
            self._db = sqlite3.connect(path, timeout=_WAIT_S, isolation_level=None)
        # Bytes that are no text are those of a damaged row; the chain tells which.
        self._db.text_factory = lambda raw: raw.decode(errors="replace")
        try:
            self._migrate(steps)
        except BaseException:
            self.close()
            raise

    def rows(self, sql: str, *values: object) -> list[tuple[Any, ...]]:
        """Ask for rows."""
        with self._told():
            return self._db.execute(sql, values).fetchall()

    def insert(self, table: str, rows: Sequence[Sequence[object]]) -> None:
        """Put rows into a table."""
        if rows:
            marks = ", ".join("?" * len(rows[0]))
            with self._told():
                self._db.executemany(f"INSERT INTO {table} VALUES ({marks})", rows)

    @contextmanager
    def reading(self) -> Iterator[None]:
        """See one state of the file."""
        with self._transaction("BEGIN"):
            yield

    @contextmanager
    def writing(self) -> Iterator[None]:
        """Be the only writer; wait for another one, but not for long."""
        with self._transaction("BEGIN IMMEDIATE"):
            yield

    def close(self) -> None:
        """Let go of the file."""
        self._db.close()

    @contextmanager
    def _transaction(self, begin: str) -> Iterator[None]:
        with self._told():
            self._db.execute(begin)
            try:
                yield
                self._db.execute("COMMIT")
            except BaseException:  # an interrupt, too
                if self._db.in_transaction:
                    self._db.execute("ROLLBACK")
                raise

    def _migrate(self, steps: Steps) -> None:
        """Bring the file to the newest schema; it is looked at before it is touched."""
        if self._version(steps) == len(steps):
            self._set_up()
            return
        self._set_up()
        with self.writing():
            # Another program may have done it in the meantime.
            for number in range(self._version(steps), len(steps)):
                for statement in steps[number]:
                    self._db.execute(statement)
                self._db.execute(f"PRAGMA user_version = {number + 1}")
            self._db.execute(f"PRAGMA application_id = {_APPLICATION_ID}")

    def _version(self, steps: Steps) -> int:
        """Read the schema of the file, 0 of a new one; refuse what is not ours."""
        version = int(self.rows("PRAGMA user_version")[0][0])
        ours = self.rows("PRAGMA application_id")[0][0] == _APPLICATION_ID
        if not ours and (version or self.rows("SELECT 1 FROM sqlite_master LIMIT 1")):
            raise _no_ledger(self.name, "another program's database")
        if version > len(steps):
            raise newer(self.name, version, len(steps))
        return version

    def _set_up(self) -> None:
        for pragma in (
            "journal_mode = DELETE",
            "synchronous = EXTRA",
            "foreign_keys = ON",
            "recursive_triggers = ON",
        ):
            self.rows(f"PRAGMA {pragma}")

    @contextmanager
    def _told(self) -> Iterator[None]:
        """Turn what SQLite refuses into words."""
        try:
            yield
        except sqlite3.Error as error:
            raise _in_words(self.name, error) from error


def _no_ledger(name: str, found: str) -> InputError:
    hint = "Move it away, or put back a copy of the ledger"
    return fault(name, "", found, "a ledger that keepdamp has written", hint)


def _in_words(name: str, error: sqlite3.Error) -> Exception:
    """Say what the disk or another writer did; anything else is a bug, as it is."""
    match getattr(error, "sqlite_errorcode", 0) & 0xFF:  # the rest says where in SQLite
        case sqlite3.SQLITE_BUSY | sqlite3.SQLITE_LOCKED:
            return busy(name)
        case sqlite3.SQLITE_FULL:
            hint = "Make room; what was written before is safe"
            return fault(name, "", "no room on the disk", "room to write", hint)
        case sqlite3.SQLITE_READONLY | sqlite3.SQLITE_PERM:
            found = "a file or folder that cannot be written to"
            hint = "Give yourself the right to write in the site folder"
            return fault(name, "", found, "one that can", hint)
        case sqlite3.SQLITE_CANTOPEN:
            found = "it cannot be opened or begun"
            hint = "Is the site folder there, and may you write in it?"
            return fault(name, "", found, "a file in a folder you can write to", hint)
        case sqlite3.SQLITE_NOTADB:
            return _no_ledger(name, "a file that is no database")
        case sqlite3.SQLITE_CORRUPT:
            return _no_ledger(name, "a damaged file")
        case sqlite3.SQLITE_IOERR:
            hint = "Is the disk full, gone or failing? What was written before is safe"
            return fault(name, "", f"the disk failed: {error}", "a sound disk", hint)
    return error
