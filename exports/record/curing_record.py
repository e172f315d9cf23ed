"""What a curing record says: the contract between the words and the page.

Every string is ready to print. The record as canonical text is what somebody signs;
signatures and what was written after them stand around it, not in it.
"""

from hashlib import sha256
from typing import Literal

from models.quantities import Instant
from models.records import Record

#: ``bad``: a limit or a promise was not kept. ``open``: nobody wrote, or not over yet.
Tone = Literal["plain", "bad", "open"]
Points = tuple[tuple[float, float], ...]


class Fact(Record):
    """Something of the surface, and where it is known from."""

    name: str
    value: str
    source: str = ""


class Row(Record):
    """A row of a section; ``tone`` says whether it needs an eye."""

    cells: tuple[str, ...]
    tone: Tone = "plain"


class Section(Record):
    """A titled table of the record.

    Attributes
    ----------
    widths : tuple of int
        Shares of the page's width, a column each.
    none : str
        What to print where there is no row.
    """

    title: str
    columns: tuple[str, ...]
    widths: tuple[int, ...]
    rows: tuple[Row, ...] = ()
    none: str = ""
    note: str = ""


class Sign(Record):
    """Something drawn at one time: a find's letter, a visit, a measured value."""

    x_fraction: float
    value: float = 0
    words: str = ""


class Stretch(Record):
    """Something drawn from one time to another."""

    from_fraction: float
    until_fraction: float


class Course(Record):
    """The drawn course: ``x`` in shares of its time, water in shares of a full cover.

    Attributes
    ----------
    days : tuple of Sign
        Where each day begins, with its name.
    planned, found : tuple of lines
        Water in the cover as planned, and as far as it is known.
    dry : tuple of Stretch
        Without a damp surface.
    finds, written, unwritten : tuple of Sign
        Conditions found; visits somebody wrote of, and those nobody did.
    face, core : points
        Temperatures by the clock, in the unit of ``unit``.
    readings, limits : tuple of Sign
        Measured; limits as lines across, with their words.
    until_fraction, ends_fraction : float
        How far the record goes; where curing ends, None if outside.
    """

    days: tuple[Sign, ...]
    nights: tuple[Stretch, ...] = ()
    planned: tuple[Points, ...] = ()
    found: tuple[Points, ...] = ()
    dry: tuple[Stretch, ...] = ()
    finds: tuple[Sign, ...] = ()
    written: tuple[Sign, ...] = ()
    unwritten: tuple[Sign, ...] = ()
    face: Points = ()
    core: Points = ()
    readings: tuple[Sign, ...] = ()
    limits: tuple[Sign, ...] = ()
    unit: str
    until_fraction: float
    ends_fraction: float | None
    spoken: str


class CuringRecord(Record):
    """The curing of one surface, from its pour up to an instant.

    Attributes
    ----------
    at : Instant
        Up to when: the newest entry's time, or one that was asked for.
    verdict : str
        Whether curing is over, and by what.
    is_over : bool
        The same, for whoever signs.
    not_met : tuple of str
        Lines: what the rule asks and did not get; the most dangerous of all.
    missing : tuple of str
        What a signature has to do without.
    notes : tuple of str
        Lines: what the record rests on, and what it is not.
    """

    schema_id: Literal["keepdamp/record/1"] = "keepdamp/record/1"
    title: str
    paper: Literal["a4", "us-letter"]
    at: Instant
    site: str
    surface: str
    surface_id: str
    zone_note: str
    verdict: str
    is_over: bool
    facts: tuple[Fact, ...]
    sections: tuple[Section, ...]
    course: Course
    not_met: tuple[str, ...] = ()
    missing: tuple[str, ...]
    notes: tuple[str, ...]

    @property
    def text(self) -> str:
        """The canonical text: what is signed."""
        return self.model_dump_json()


def digest_of(text: str) -> str:
    """Give the digest of a record's canonical text, in hexadecimal digits."""
    return sha256(text.encode()).hexdigest()


class Signature(Record):
    """Who signed a record, when, and which state of it; ``gaps`` was missing then."""

    entry: int
    name: str
    role: str
    when: str
    digest: str
    gaps: int = 0


class SignedRecord(Record):
    """A record with its digest, its signatures and what was written after them.

    ``amended`` are lines; empty where the newest signature is of this very state.
    """

    record: CuringRecord
    digest: str
    signatures: tuple[Signature, ...] = ()
    amended: tuple[str, ...] = ()
