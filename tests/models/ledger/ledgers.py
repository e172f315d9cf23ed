"""Both places where a ledger can be kept, with a way to do harm to each."""

import sqlite3
from contextlib import closing
from pathlib import Path
from typing import Protocol

import psycopg

from models.ledger.postgres_store import open_postgres
from models.ledger.sql_store import SqlStore
from models.ledger.sqlite_store import open_sqlite
from models.ledger.store import Store


class Ledger(Protocol):
    """One site's ledger that can be opened again and again."""

    def open(self) -> Store:
        """Open it as the program does."""
        ...

    def tamper(self, *statements: str) -> None:
        """Do harm to it behind the program's back, with its guards taken off."""
        ...

    def insert_again(self, statement: str) -> None:
        """Run a statement against its guards."""
        ...

    def set_schema(self, version: int) -> None:
        """Let it say that it is of another schema."""
        ...

    def content(self) -> object:
        """All there is in it, to see that nothing was changed."""
        ...


class SqliteLedger:
    """A file in a folder of a test."""

    def __init__(self, folder: Path) -> None:
        self.path = folder / "ledger.sqlite"

    def open(self) -> SqlStore:
        return open_sqlite(self.path)

    def tamper(self, *statements: str) -> None:
        with closing(sqlite3.connect(self.path)) as db:
            named = "SELECT name FROM sqlite_master WHERE type = 'trigger'"
            for (name,) in db.execute(named).fetchall():
                db.execute(f"DROP TRIGGER {name}")
            for statement in statements:
                db.execute(statement)
            db.commit()

    def insert_again(self, statement: str) -> None:
        with closing(sqlite3.connect(self.path)) as db:
            db.execute(statement)
            db.commit()

    def set_schema(self, version: int) -> None:
        self.tamper(f"PRAGMA user_version = {version}")

    def content(self) -> object:
        return self.path.read_bytes()


class PostgresLedger:
    """A site in a database, which is emptied first."""

    def __init__(self, database: str, site: str = "Heron Wharf") -> None:
        self.database, self.site = database, site

    @classmethod
    def fresh(cls, database: str) -> "PostgresLedger":
        made = cls(database)
        made.insert_again("DROP SCHEMA IF EXISTS keepdamp CASCADE")
        return made

    def open(self) -> SqlStore:
        return open_postgres(self.database, self.site)

    def tamper(self, *statements: str) -> None:
        # As one of the database's own keepers can: without triggers and foreign keys.
        self.insert_again("SET session_replication_role = replica", *statements)

    def insert_again(self, *statements: str) -> None:
        options = "-c search_path=keepdamp"
        with psycopg.connect(self.database, options=options) as db:
            for statement in statements:
                db.execute(statement)

    def set_schema(self, version: int) -> None:
        self.tamper(f"INSERT INTO schema_steps VALUES ({version})")

    def content(self) -> object:
        tables = ("schema_steps", "chain", "entries", "issues", "visits")
        with psycopg.connect(self.database) as db:
            asked = (f"SELECT * FROM keepdamp.{table}" for table in tables)
            return [sorted(map(repr, db.execute(sql).fetchall())) for sql in asked]
