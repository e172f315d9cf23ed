"""Both places where a ledger can be kept, with a way to do harm to each."""

import sqlite3
from contextlib import closing
from pathlib import Path
from typing import Protocol

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

    def open(self) -> Store:
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
