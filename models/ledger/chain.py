"""The hash chain: each row's hash covers its text and the hash before it.

A row that is changed, taken out or put in later fits no more, whoever did it and
however. Only rows cut off the end leave no trace in the chain: the newest hash, kept
elsewhere, shows these.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from hashlib import sha256
from typing import Literal

What = Literal["entry", "issue"]


@dataclass(frozen=True)
class Link:
    """One row of the chain, entries and issues in the order in which they came."""

    position: int
    what: What
    number: int
    hash: str


class BrokenLinkError(Exception):
    """Where the chain and the rows part: the row by its name, and how."""

    def __init__(self, row: str, found: str) -> None:
        super().__init__(f"{row}: {found}")
        self.row, self.found = row, found


def digest(text: str) -> str:
    """SHA-256 of a text, in hexadecimal digits."""
    return sha256(text.encode()).hexdigest()


def link_hash(before: str, what: What, number: int, *texts: str) -> str:
    """Hash a row: the hash before it, its name and its texts, none with a newline."""
    return digest("\n".join([before, what, str(number), *texts]))


def entry_texts(body: str, corrects: int | None) -> tuple[str, ...]:
    """Give what of an entry's row is hashed: every column."""
    return body, str(corrects or "")


def issue_texts(
    body: str, forecast: str, roster: str, visits: Iterable[str]
) -> tuple[str, ...]:
    """Give what of an issue's row is hashed: every column, and its visits' rows."""
    return body, digest(forecast), digest(roster), digest("\n".join(visits))


def require_unbroken(
    links: Iterable[Link],
    counts: dict[What, int],
    texts: Callable[[What, int], tuple[str, ...] | None],
) -> None:
    """Verify that rows and chain belong together.

    Parameters
    ----------
    links : iterable of Link
        The chain, in order of position.
    counts : dict
        The highest number among the rows of each sort.
    texts : callable
        Gives what of a row is hashed, None if the row is not there.

    Raises
    ------
    BrokenLinkError
        At the first row that does not fit.
    """
    before = ""
    numbers: dict[What, int] = {"entry": 0, "issue": 0}
    for reached, link in enumerate(links, start=1):
        numbers[link.what] += 1
        row = f"{link.what} {numbers[link.what]}"
        here = texts(link.what, numbers[link.what])
        if here is None:
            raise BrokenLinkError(row, "it was taken out")
        if (link.position, link.number) != (reached, numbers[link.what]):
            raise BrokenLinkError(row, "its link of the hash chain was taken out")
        if link.hash != link_hash(before, link.what, link.number, *here):
            found = "it, or what stands before it, was changed after it was written"
            raise BrokenLinkError(row, found)
        before = link.hash
    for what, count in counts.items():
        if count > numbers[what]:
            found = "it stands outside the hash chain: keepdamp did not write it"
            raise BrokenLinkError(f"{what} {numbers[what] + 1}", found)
