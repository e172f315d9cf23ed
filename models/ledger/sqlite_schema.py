"""The tables of a ledger in SQLite, step by step; a step that landed never changes.

Each step brings a ledger from one schema to the next and is done whole or not at all.
"""

from collections.abc import Iterator

_TABLES = {
    "chain": """CREATE TABLE chain (
        site TEXT NOT NULL, position INTEGER NOT NULL,
        what TEXT NOT NULL CHECK (what IN ('entry', 'issue')),
        number INTEGER NOT NULL, hash TEXT NOT NULL,
        PRIMARY KEY (site, position), UNIQUE (site, what, number)
    ) STRICT""",
    "entries": """CREATE TABLE entries (
        site TEXT NOT NULL, number INTEGER NOT NULL, corrects INTEGER,
        body TEXT NOT NULL,
        PRIMARY KEY (site, number), UNIQUE (site, corrects),
        FOREIGN KEY (site, corrects) REFERENCES entries (site, number)
    ) STRICT""",
    "issues": """CREATE TABLE issues (
        site TEXT NOT NULL, number INTEGER NOT NULL, body TEXT NOT NULL,
        forecast TEXT NOT NULL, roster TEXT NOT NULL,
        PRIMARY KEY (site, number)
    ) STRICT""",
    "visits": """CREATE TABLE visits (
        site TEXT NOT NULL, issue INTEGER NOT NULL, visit TEXT NOT NULL,
        surface_id TEXT NOT NULL, duty TEXT NOT NULL, body TEXT NOT NULL,
        PRIMARY KEY (site, visit, issue),
        FOREIGN KEY (site, issue) REFERENCES issues (site, number)
    ) STRICT""",
}
_KEYS = {
    "chain": "site = NEW.site AND position = NEW.position",
    "entries": "site = NEW.site AND number = NEW.number",
    "issues": "site = NEW.site AND number = NEW.number",
    "visits": "site = NEW.site AND visit = NEW.visit AND issue = NEW.issue",
}


def _append_only(table: str) -> Iterator[str]:
    """Refuse every change of a row.

    INSERT OR REPLACE deletes the old row without asking the second trigger, unless the
    connection has recursive_triggers on: the third refuses it for every other too.
    """
    refuse = f"BEGIN SELECT RAISE(ABORT, '{table} are only ever added to'); END"
    for event in ("UPDATE", "DELETE"):
        yield f"CREATE TRIGGER {table}_{event} BEFORE {event} ON {table} {refuse}"
    taken = f"WHEN EXISTS (SELECT 1 FROM {table} WHERE {_KEYS[table]})"
    yield f"CREATE TRIGGER {table}_INSERT BEFORE INSERT ON {table} {taken} {refuse}"


#: Step n, counted from 1, leads to schema n.
STEPS: tuple[tuple[str, ...], ...] = (
    (
        *_TABLES.values(),
        "CREATE INDEX visits_by_issue ON visits (site, issue)",
        *(statement for table in _TABLES for statement in _append_only(table)),
    ),
)
