"""The ledger in tables, in SQL that both databases understand.

Records are kept as canonical JSON text: the hash chain is over these very texts, so a
field that a later version adds changes no hash. Each row has the key of its site, in a
file of one site too: so the rows of a file can be taken over by a database of many.
"""

from collections.abc import Iterator, Sequence
from contextlib import AbstractContextManager
from datetime import datetime
from json import dumps, loads
from types import TracebackType
from typing import Any, Protocol, Self

from models.ledger.chain import (
    BrokenLinkError,
    Link,
    What,
    entry_texts,
    issue_texts,
    link_hash,
    require_unbroken,
)
from models.ledger.faults import changed, fault
from models.records import Entry, Issue, IssueHead, NewEntry, Record, VisitIdentity

_LONG = ("forecast", "roster")
_VISITS_OF = (
    "SELECT body FROM visits WHERE site = ? AND issue = ? "
    "ORDER BY surface_id, duty, visit"
)
_NEWEST_VISITS = (
    "SELECT body FROM visits AS v WHERE site = ? AND issue = (SELECT max(issue) "
    "FROM visits AS w WHERE w.site = v.site AND w.visit = v.visit) "
    "ORDER BY surface_id, duty, visit"
)


class Database(Protocol):
    """What a store asks of SQLite or PostgreSQL; ``?`` stands for a value."""

    @property
    def name(self) -> str:
        """What messages call it."""
        ...

    def rows(self, sql: str, *values: object) -> list[tuple[Any, ...]]:
        """Ask for rows."""
        ...

    def insert(self, table: str, rows: Sequence[Sequence[object]]) -> None:
        """Put rows into a table, a value for each of its columns."""
        ...

    def reading(self) -> AbstractContextManager[None]:
        """See one state of all tables, whatever others write meanwhile."""
        ...

    def writing(self) -> AbstractContextManager[None]:
        """Be the only writer of the site; at the end all is on the disk, or nothing."""
        ...

    def close(self) -> None:
        """Let go of it."""
        ...


class SqlStore:
    """A ledger on a database that has been brought up to date; verified at once.

    Raises
    ------
    InputError
        If a row is not as it was written; its name is told.
    """

    def __init__(self, database: Database, site: str) -> None:
        self._db, self._site = database, site
        try:
            with database.reading():
                self._verify()
        except BrokenLinkError as broken:
            raise changed(database.name, broken.row, broken.found) from None

    def append(
        self, entries: Sequence[NewEntry], written_at: datetime
    ) -> tuple[Entry, ...]:
        """Write entries, all or none; see :class:`models.ledger.store.Store`."""
        with self._db.writing():
            return tuple(self._append(entry, written_at) for entry in entries)

    def entries(self, after: int = 0) -> tuple[Entry, ...]:
        """Give the entries with numbers above ``after``, in their order."""
        rows = self._rows(
            "SELECT body FROM entries WHERE site = ? AND number > ? ORDER BY number",
            after,
        )
        return tuple(Entry.model_validate_json(body) for (body,) in rows)

    def publish(self, issue: Issue, visits: Sequence[VisitIdentity] = ()) -> None:
        """Write an issue and its visits; see :class:`models.ledger.store.Store`.

        Raises
        ------
        ValueError
            If a visit is not of the issue: a bug of the caller.
        """
        if any(visit.issue_number != issue.number for visit in visits):
            raise ValueError(f"visits of another issue than {issue.number}")
        with self._db.writing():
            if (due := self.next_issue_number()) != issue.number:
                hint = "Somebody has published meanwhile; plan and publish again"
                found, wanted = f"{issue.number}", f"{due}"
                raise fault(self._db.name, "issue", found, wanted, hint)
            body = _canonical(issue, *_LONG)
            ordered = sorted(visits, key=lambda v: (v.surface_id, v.duty, v.id))
            bodies = [_canonical(visit) for visit in ordered]
            texts = issue_texts(body, issue.forecast, issue.roster, bodies)
            row = (self._site, issue.number, body, issue.forecast, issue.roster)
            self._db.insert("issues", [row])
            rows = [
                (self._site, issue.number, visit.id, visit.surface_id, visit.duty, text)
                for visit, text in zip(ordered, bodies, strict=True)
            ]
            self._db.insert("visits", rows)
            self._chain("issue", issue.number, texts)

    def next_issue_number(self) -> int:
        """Give the number of the issue to come."""
        return self._newest("issues") + 1

    def issues(self) -> tuple[IssueHead, ...]:
        """Give all issues without their long texts, in their order."""
        rows = self._rows("SELECT body FROM issues WHERE site = ? ORDER BY number")
        return tuple(_head(body)[0] for (body,) in rows)

    def issue(self, number: int) -> Issue | None:
        """Give one issue whole; None if there is none of that number."""
        found = self._issue_row(number)
        if found is None:
            return None
        body, forecast, roster = found
        head, pours = _head(body)
        return Issue(**dict(head), forecast=forecast, roster=roster, pours=pours)

    def newest_issue(self) -> Issue | None:
        """Give the issue that counts now, whole; None before the first."""
        return self.issue(self._newest("issues"))

    def visits(self, issue_number: int | None = None) -> tuple[VisitIdentity, ...]:
        """Give visits as of an issue, or the newest row of each."""
        rows = (
            self._rows(_NEWEST_VISITS)
            if issue_number is None
            else self._rows(_VISITS_OF, issue_number)
        )
        return tuple(VisitIdentity.model_validate_json(body) for (body,) in rows)

    def seal(self) -> str:
        """Give the hash over all that was ever written, "" for an empty ledger."""
        return self._newest_link()[1]

    def close(self) -> None:
        """Let go of the file or the server."""
        self._db.close()

    def __enter__(self) -> Self:
        """Close it at the end of a ``with`` block."""
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """Close it."""
        self.close()

    def _rows(self, sql: str, *values: object) -> list[tuple[Any, ...]]:
        return self._db.rows(sql, self._site, *values)

    def _newest(self, table: str, column: str = "number") -> int:
        sql = f"SELECT coalesce(max({column}), 0) FROM {table} WHERE site = ?"
        return int(self._rows(sql)[0][0])

    def _append(self, new: NewEntry, written_at: datetime) -> Entry:
        number = self._newest("entries") + 1
        if new.corrects is not None:
            self._require_correctable(new.corrects, number)
        entry = Entry(**dict(new), number=number, written_at=written_at)
        body = _canonical(entry)
        self._db.insert("entries", [(self._site, number, entry.corrects, body)])
        self._chain("entry", number, entry_texts(body, entry.corrects))
        return entry

    def _require_correctable(self, corrects: int, number: int) -> None:
        hint = "keepdamp log SITE lists the entries with their numbers"
        if corrects >= number:
            wanted = f"the number of an entry, 1 to {number - 1}"
            found = f"{corrects}"
            if number == 1:
                wanted = "no correction: the ledger has no entry yet"
            raise fault(self._db.name, "corrects", found, wanted, hint)
        taken = self._rows(
            "SELECT number FROM entries WHERE site = ? AND corrects = ?", corrects
        )
        if taken:
            (by,) = taken[0]
            found = f"{corrects}, which entry {by} has corrected already"
            raise fault(self._db.name, "corrects", found, f"entry {by}", hint)

    def _chain(self, what: What, number: int, texts: tuple[str, ...]) -> None:
        position, before = self._newest_link()
        hashed = link_hash(before, what, number, *texts)
        row = (self._site, position + 1, what, number, hashed)
        self._db.insert("chain", [row])

    def _newest_link(self) -> tuple[int, str]:
        rows = self._rows(
            "SELECT position, hash FROM chain WHERE site = ? "
            "ORDER BY position DESC LIMIT 1"
        )
        for position, newest in rows:
            return int(position), str(newest)
        return 0, ""

    def _issue_row(self, number: int) -> tuple[str, str, str] | None:
        rows = self._rows(
            "SELECT body, forecast, roster FROM issues WHERE site = ? AND number = ?",
            number,
        )
        for body, forecast, roster in rows:
            return str(body), str(forecast), str(roster)
        return None

    def _verify(self) -> None:
        entries = {
            number: entry_texts(body, corrects)
            for number, corrects, body in self._rows(
                "SELECT number, corrects, body FROM entries WHERE site = ?"
            )
        }

        def texts(what: What, number: int) -> tuple[str, ...] | None:
            if what == "entry":
                return entries.get(number)
            row = self._issue_row(number)
            visits = (body for (body,) in self._rows(_VISITS_OF, number))
            return row and issue_texts(*row, visits)

        issues = max(self._newest("issues"), self._newest("visits", "issue"))
        counts: dict[What, int] = {"entry": max(entries, default=0), "issue": issues}
        require_unbroken(self._links(), counts, texts)

    def _links(self) -> Iterator[Link]:
        sql = (
            "SELECT position, what, number, hash FROM chain WHERE site = ? "
            "ORDER BY position"
        )
        return (Link(*row) for row in self._rows(sql))


def _head(body: str) -> tuple[IssueHead, str]:
    """Read an issue's row: what stands at its head, and its pours as text."""
    plain = loads(body)
    pours = plain.pop("pours", "")
    return IssueHead.model_validate(plain), pours


def _canonical(record: Record, *without: str) -> str:
    """Write a record as JSON of one form: keys sorted, nothing between them."""
    plain = record.model_dump(mode="json", exclude=set(without))
    return dumps(plain, ensure_ascii=False, sort_keys=True, separators=(",", ":"))
