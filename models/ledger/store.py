"""What every store of a ledger can do, whatever keeps its rows.

A store never reads a clock: times are handed in. What a writing method has returned
from is on the disk and stays, whatever becomes of the program or the machine.
"""

from collections.abc import Sequence
from datetime import datetime
from types import TracebackType
from typing import Protocol, Self

from models.records import Entry, Issue, IssueHead, NewEntry, VisitIdentity


class Store(Protocol):
    """The ledger of one site; opened, it has been verified.

    All methods raise :class:`models.errors.InputError` where the disk, the server or
    another writer does not let them.
    """

    def append(
        self, entries: Sequence[NewEntry], written_at: datetime
    ) -> tuple[Entry, ...]:
        """Write entries, all or none, and give them with their numbers.

        Raises
        ------
        InputError
            If one corrects an entry that is not there or is corrected already.
        """
        ...

    def entries(self, after: int = 0) -> tuple[Entry, ...]:
        """Give the entries with numbers above ``after``, in their order."""
        ...

    def publish(self, issue: Issue, visits: Sequence[VisitIdentity] = ()) -> None:
        """Write an issue and what it says of visits, in one step.

        The issue's number is that of :meth:`next_issue_number`, under which all that
        is handed out has been made.

        Raises
        ------
        InputError
            If another issue has been published under it meanwhile.
        """
        ...

    def next_issue_number(self) -> int:
        """Give the number of the issue to come."""
        ...

    def issues(self) -> tuple[IssueHead, ...]:
        """Give all issues without their long texts, in their order."""
        ...

    def issue(self, number: int) -> Issue | None:
        """Give one issue whole; None if there is none of that number."""
        ...

    def newest_issue(self) -> Issue | None:
        """Give the issue that counts now, whole; None before the first."""
        ...

    def visits(self, issue_number: int | None = None) -> tuple[VisitIdentity, ...]:
        """Give what is known of visits, by surface, duty and id.

        Parameters
        ----------
        issue_number : int or None
            Only the rows written with that issue; None for the newest row of each
            visit that was ever published, finished and cancelled ones too.
        """
        ...

    def seal(self) -> str:
        """Give the hash over all that was ever written, "" for an empty ledger.

        Kept elsewhere, on paper too, it shows whether rows were cut off the end.
        """
        ...

    def close(self) -> None:
        """Let go of the file or the server."""
        ...

    def __enter__(self) -> Self:
        """Close it at the end of a ``with`` block."""
        ...

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """Close it."""
        ...
