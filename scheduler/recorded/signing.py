"""Signatures under curing records: what was signed, and what was written after."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from exports.record.curing_record import (
    CuringRecord,
    Signature,
    SignedRecord,
    digest_of,
)
from models.errors import InputError, Problem
from models.local_clock import LocalClock
from models.records import Entry, NewEntry, Signed
from scheduler.logbook.words import entry_words
from scheduler.recorded.assemble import record_of, words_of
from scheduler.recorded.book import COMMAND, Book
from scheduler.recorded.life import Life, life_of
from scheduler.recorded.missing import missing_of
from scheduler.recorded.words import Words, some


@dataclass(frozen=True)
class Signer:
    """Who signs, as what and when."""

    name: str
    role: str
    now: datetime

    @property
    def initials(self) -> str:
        """First letters of the name."""
        return "".join(word[0] for word in self.name.split())[:40]


def signed_record(book: Book, surface_id: str, at: datetime | None) -> SignedRecord:
    """Give a surface's record with its signatures.

    Signed and with nothing written of it since, it is the text that was signed, as the
    ledger keeps it: nothing that the folder says now can change it.

    Parameters
    ----------
    at : datetime or None
        How far a record goes that is not locked; None for the newest entry's time.

    Raises
    ------
    InputError
        As :func:`life_of`.
    """
    book.pour_of(surface_id)
    signed = signatures_of(book, surface_id)
    if signed and not after_signing(book, surface_id, signed[-1]):
        return _as_signed(book, signed)
    life = life_of(book, surface_id, at or book.newest_time)
    return around(life, record_of(life))


def open_points(book: Book, surface_id: str, at: datetime) -> tuple[str, ...]:
    """List what is missing before a surface is signed, the signature at last.

    Raises
    ------
    InputError
        As :func:`life_of`.
    """
    signed = signatures_of(book, surface_id)
    later = after_signing(book, surface_id, signed[-1]) if signed else ()
    if signed and not later:
        return _as_signed(book, signed).record.missing
    life = life_of(book, surface_id, at)
    lines = missing_of(life, words_of(life))
    if not signed:
        return (*lines, "signature")
    numbers = some([str(entry.number) for entry in later])
    return (*lines, f"signature of what was amended by entry {numbers}")


def around(life: Life, record: CuringRecord) -> SignedRecord:
    """Put signatures and what was written after them around a record."""
    book, words = life.book, words_of(life)
    signed = signatures_of(book, life.surface_id)
    amended: tuple[str, ...] = ()
    digest = digest_of(record.text)
    if signed:
        later = after_signing(book, life.surface_id, signed[-1])
        amended = tuple(_amended(signed[-1], later, digest, words, book))
    return SignedRecord(
        record=record,
        digest=digest,
        signatures=tuple(_signature(entry, words) for entry in signed),
        amended=amended,
    )


def signatures_of(book: Book, surface_id: str) -> tuple[Entry, ...]:
    """Give the signatures of a surface that nobody has withdrawn."""
    return tuple(
        entry
        for entry in book.standing
        if entry.about == surface_id and isinstance(entry.values, Signed)
    )


def after_signing(book: Book, surface_id: str, signed: Entry) -> tuple[Entry, ...]:
    """Give the entries after a signature that have to do with the surface.

    Weather counts where it was measured before the signature; what came later has
    nothing to do with what was signed.
    """
    pour = book.pour_of(surface_id)
    own = {surface_id, pour.id}
    numbers = {e.number for e in book.entries if e.about in own}
    later = []
    for entry in book.entries[signed.number :]:
        touches = entry.about in own or entry.corrects in numbers
        weather = entry.kind == "weather_observed"
        weather &= entry.happened_at <= signed.happened_at
        if (touches or weather) and entry.kind != "signed":
            later.append(entry)
    return tuple(later)


def signature(
    book: Book, surface_id: str, who: Signer, at: datetime, *, with_gaps: bool
) -> NewEntry:
    """Sign the state that :func:`signed_record` shows, up to ``at``.

    Where it is locked, the same text is signed once more, by somebody else.

    Raises
    ------
    InputError
        Where curing is not over, that state is signed by that name already, or
        something is missing and ``with_gaps`` does not say that it is known.
    """
    shown = signed_record(book, surface_id, at)
    record = shown.record
    for one in shown.signatures:
        if one.digest == shown.digest and one.name == who.name:
            found = f"{surface_id}, signed by {who.name} already (entry {one.entry})"
            raise _refused(found, "a state that has changed since", "")
    if not record.is_over:
        wanted = "a surface whose curing is over"
        hint = "Sign when it is; keepdamp record SITE --open lists what is missing"
        raise _refused(f"{surface_id}: {record.verdict}", wanted, hint)
    if record.missing and not with_gaps:
        found = f"{surface_id}, missing: {'; '.join(record.missing)}"
        wanted = "a record in which nothing is missing"
        hint = "Write it down with keepdamp log, or sign with --with-gaps"
        raise _refused(found, wanted, hint)
    gaps = len(record.missing)
    return NewEntry(
        about=surface_id,
        happened_at=who.now,
        by=who.initials,
        note=f"{gaps} missing" if gaps else "",
        values=Signed(
            name=who.name,
            role=who.role,
            record_digest=shown.digest,
            record=record.text,
        ),
    )


def _refused(found: str, wanted: str, hint: str) -> InputError:
    return InputError([Problem(COMMAND, "sign", found, wanted, hint)])


def _as_signed(book: Book, signed: tuple[Entry, ...]) -> SignedRecord:
    values = signed[-1].values
    assert isinstance(values, Signed)
    record = CuringRecord.model_validate_json(values.record)
    life_words = _words_of_text(book, record)
    return SignedRecord(
        record=record,
        digest=values.record_digest,
        signatures=tuple(_signature(entry, life_words) for entry in signed),
    )


def _words_of_text(book: Book, record: CuringRecord) -> Words:
    site = book.site_input.site
    return Words(LocalClock(site.timezone), site.units, record.at, record.at)


def _signature(entry: Entry, words: Words) -> Signature:
    values = entry.values
    assert isinstance(values, Signed)
    gaps = len(CuringRecord.model_validate_json(values.record).missing)
    return Signature(
        entry=entry.number,
        name=values.name,
        role=values.role,
        when=words.when(entry.happened_at),
        digest=values.record_digest,
        gaps=gaps,
    )


def _amended(
    signed: Entry, later: Iterable[Entry], digest: str, words: Words, book: Book
) -> Iterable[str]:
    values = signed.values
    assert isinstance(values, Signed)
    units = book.site_input.site.units
    for entry in later:
        said = entry_words(entry, words.clock, units)
        yield f"entry {entry.number}: {said}; {words.written(entry)}"
    by = f"signed by {values.name}, entry {signed.number}"
    yield f"{by}: digest {values.record_digest}"
    yield f"as it is now: digest {digest}; the signature is not of this state"
