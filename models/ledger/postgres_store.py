"""Ledgers of all sites of a firm in one PostgreSQL database, a site key in each row.

They stand in a schema of their own, ``keepdamp``, so that the database may hold other
things too. Writers of one site wait for each other; those of other sites do not.
"""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from hashlib import sha256
from typing import Any

import psycopg
from psycopg import errors
from psycopg.conninfo import conninfo_to_dict

from models.ledger.faults import busy, fault, newer
from models.ledger.postgres_schema import STEPS
from models.ledger.sql_store import SqlStore

_WAIT_MS = 5000
#: A server may be set up to acknowledge before the disk has it; not for a ledger.
_SETTINGS = "-c search_path=keepdamp -c synchronous_commit=on"

Steps = Sequence[Sequence[str]]


def open_postgres(database: str, site: str, steps: Steps = STEPS) -> SqlStore:
    """Open the ledger of a site and verify it; make a new database ready first.

    Parameters
    ----------
    database : str
        Connection string: ``postgresql://user@host/name`` or ``host=... dbname=...``.
    site : str
        What tells the site from the others of the firm.
    steps : sequence
        What leads from schema to schema.

    Raises
    ------
    InputError
        If the server does not answer or refuses, if the ledger was tampered with or is
        of a newer schema.
    """
    connected = PostgresDatabase(database, site, steps)
    try:
        return SqlStore(connected, site)
    except BaseException:
        connected.close()
        raise


class PostgresDatabase:
    """A connection to a database of the newest schema, for one site."""

    def __init__(self, database: str, site: str, steps: Steps) -> None:
        self.name = "ledger database"
        with self._told():
            parts = conninfo_to_dict(database)
            self.name = f"ledger database {parts.get('dbname', '')}".rstrip()
            settings = f"{parts.get('options') or ''} {_SETTINGS}".strip()
            settings += f" -c lock_timeout={_WAIT_MS}"
            self._db = psycopg.connect(database, autocommit=True, options=settings)
        self._key = _lock_key(site)
        try:
            self._migrate(steps)
        except BaseException:
            self.close()
            raise

    def rows(self, sql: str, *values: object) -> list[tuple[Any, ...]]:
        """Ask for rows."""
        with self._told():
            return self._db.execute(_own(sql), values).fetchall()

    def insert(self, table: str, rows: Sequence[Sequence[object]]) -> None:
        """Put rows into a table."""
        if rows:
            marks = ", ".join("?" * len(rows[0]))
            with self._told(), self._db.cursor() as cursor:
                cursor.executemany(_own(f"INSERT INTO {table} VALUES ({marks})"), rows)

    @contextmanager
    def reading(self) -> Iterator[None]:
        """See one state of the tables."""
        with self._told(), self._db.transaction():
            self._db.execute(
                "SET TRANSACTION ISOLATION LEVEL REPEATABLE READ READ ONLY"
            )
            yield

    @contextmanager
    def writing(self) -> Iterator[None]:
        """Be the only writer of the site; wait for another one, but not for long."""
        with self._told(), self._locked(self._key):
            yield

    def close(self) -> None:
        """Let go of the server."""
        self._db.close()

    @contextmanager
    def _locked(self, key: int) -> Iterator[None]:
        with self._db.transaction():
            self._db.execute("SELECT pg_advisory_xact_lock(%s)", (key,))
            yield

    def _migrate(self, steps: Steps) -> None:
        """Bring the tables to the newest schema; they are looked at before."""
        if self._version(steps) == len(steps):
            return
        with self._told(), self._locked(_lock_key("")):
            self._db.execute("CREATE SCHEMA IF NOT EXISTS keepdamp")
            self._db.execute("CREATE TABLE IF NOT EXISTS schema_steps (number BIGINT)")
            # Another program may have done it in the meantime.
            for number in range(self._version(steps), len(steps)):
                for statement in steps[number]:
                    self._db.execute(statement)
                self._db.execute("INSERT INTO schema_steps VALUES (%s)", (number + 1,))

    def _version(self, steps: Steps) -> int:
        """Read the schema, 0 of a new one; refuse what is newer."""
        if self.rows("SELECT to_regclass('keepdamp.schema_steps')") == [(None,)]:
            return 0
        version = self.rows("SELECT coalesce(max(number), 0) FROM schema_steps")[0][0]
        if version > len(steps):
            raise newer(self.name, version, len(steps))
        return int(version)

    @contextmanager
    def _told(self) -> Iterator[None]:
        """Turn what the server refuses into words."""
        try:
            yield
        except psycopg.Error as error:
            raise _in_words(self.name, error) from error


def _own(sql: str) -> str:
    """Bring SQL to the driver's sign for a value."""
    return sql.replace("%", "%%").replace("?", "%s")


def _lock_key(site: str) -> int:
    """Give the number of the lock that writers of a site share; 0 for all sites."""
    digest = sha256(site.encode()).digest()
    return int.from_bytes(digest[:8], signed=True) if site else 0


def _in_words(name: str, error: psycopg.Error) -> Exception:
    """Say what the server or another writer did; anything else is a bug, as it is."""
    said = str(error).strip().split("\n")[0]
    match error:
        case errors.LockNotAvailable():
            return busy(name)
        case errors.DiskFull():
            hint = "Make room on the server; what was written before is safe"
            return fault(name, "", "no room on the disk", "room to write", hint)
        case errors.InsufficientPrivilege() | errors.ReadOnlySqlTransaction():
            hint = "Ask whoever keeps the database for the right to write in it"
            return fault(name, "", said, "a database that can be written to", hint)
        case psycopg.OperationalError():
            hint = "Is the server up, and are name, user and password right?"
            return fault(name, "", said, "a PostgreSQL server that answers", hint)
        case psycopg.ProgrammingError() if error.sqlstate is None:
            hint = "Such as postgresql://user@host/name"
            return fault(name, "", said, "a connection string", hint)
    return error
