"""The tables of ledgers in PostgreSQL, step by step, as in ``sqlite_schema.py``.

All sites of a firm share them; ``COLLATE "C"`` sorts texts as SQLite and Python do.
"""

from collections.abc import Iterator

_TEXT = 'TEXT COLLATE "C" NOT NULL'
_TABLES = {
    "chain": f"""CREATE TABLE chain (
        site {_TEXT}, position BIGINT NOT NULL,
        what {_TEXT} CHECK (what IN ('entry', 'issue')),
        number BIGINT NOT NULL, hash {_TEXT},
        PRIMARY KEY (site, position), UNIQUE (site, what, number)
    )""",
    "entries": f"""CREATE TABLE entries (
        site {_TEXT}, number BIGINT NOT NULL, corrects BIGINT, body {_TEXT},
        PRIMARY KEY (site, number), UNIQUE (site, corrects),
        FOREIGN KEY (site, corrects) REFERENCES entries (site, number)
    )""",
    "issues": f"""CREATE TABLE issues (
        site {_TEXT}, number BIGINT NOT NULL, body {_TEXT}, forecast {_TEXT},
        roster {_TEXT},
        PRIMARY KEY (site, number)
    )""",
    "visits": f"""CREATE TABLE visits (
        site {_TEXT}, issue BIGINT NOT NULL, visit {_TEXT}, surface_id {_TEXT},
        duty {_TEXT}, body {_TEXT},
        PRIMARY KEY (site, visit, issue),
        FOREIGN KEY (site, issue) REFERENCES issues (site, number)
    )""",
}
_REFUSE = """CREATE FUNCTION refuse_change() RETURNS trigger LANGUAGE plpgsql AS
    $$ BEGIN RAISE EXCEPTION '% are only ever added to', TG_TABLE_NAME; END $$"""


def _append_only(table: str) -> Iterator[str]:
    """Refuse every change of a row; an INSERT replaces none without an UPDATE."""
    yield (
        f"CREATE TRIGGER {table}_only_added BEFORE UPDATE OR DELETE OR TRUNCATE "
        f"ON {table} FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()"
    )


#: Step n, counted from 1, leads to schema n.
STEPS: tuple[tuple[str, ...], ...] = (
    (
        *_TABLES.values(),
        "CREATE INDEX visits_by_issue ON visits (site, issue)",
        _REFUSE,
        *(statement for table in _TABLES for statement in _append_only(table)),
    ),
)
