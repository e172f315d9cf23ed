"""One value of a file, read as its column asks: text, number, cell or TOML value."""

import re
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from datetime import date, datetime, time
from math import isfinite

from models.files.reading.columns import Bounds, ColumnReading, Sort
from models.files.reading.local_time import FIRST_YEAR, LAST_YEAR, LocalTime, read_clock
from models.files.reading.problems import ValueRefused
from models.files.reading.wanted import WANTED_DATE, WANTED_SPAN, wanted
from models.quantities import UNITS, UnreadableQuantityError, read_quantity
from models.records import Break
from models.wording import called, did_you_mean, one_of, say, tidy

#: Ids name tasks, calendars and files, so they are kept plain.
WANTED_ID = (
    "an id of at most 40 letters, digits, spaces and _ . - + # ( ), a letter or digit "
    "first"
)
_ID = re.compile(r"[^\W_][\w .+#()-]{0,39}")
_SPAN = re.compile(r"\s*(\d{2}:\d{2})\s*(?:-|–|to)\s*(\d{2}:\d{2})\s*")
_DATE = re.compile(r"\d{4}-\d{2}-\d{2}")
_YES, _NO = ("yes", "true"), ("no", "false")


@dataclass(frozen=True)
class BadCell:
    """A spreadsheet cell with no usable value, and why in words."""

    found: str
    hint: str

    def __str__(self) -> str:
        """Return what was found, for the message."""
        return self.found


def is_blank(raw: object) -> bool:
    """Say whether nothing was written, so that the default holds."""
    return raw is None or (isinstance(raw, str) and not raw.strip())


def read_value(raw: object, column: ColumnReading, local: LocalTime) -> object:
    """Read one value that is not blank.

    Raises
    ------
    ValueRefused
        With what is wanted instead.
    """
    if isinstance(raw, BadCell):
        raise ValueRefused(wanted(column), raw.hint)
    if column.sort == "instant":
        return local.instant(raw)
    return _READERS[column.sort](raw, column)


def _within(value: float, bounds: Bounds, column: ColumnReading) -> float:
    if not bounds.hold(value):
        raise ValueRefused(wanted(column))
    return value


def _quantity(raw: object, column: ColumnReading) -> float | int:
    unit = UNITS[column.kind][column.unit]
    if isinstance(raw, int | float) and not isinstance(raw, bool):
        if not isfinite(raw):
            raise ValueRefused("a finite number")
        value = float(raw) * unit.factor + unit.offset
    elif isinstance(raw, str):
        text = raw.strip()
        # Only where a bare number does not have the record's unit: "55" is 55 %.
        if column.unit != next(iter(UNITS[column.kind])) and text[-1:].isdigit():
            text = f"{text} {column.unit}"
        try:
            value = read_quantity(text, column.kind)
        except UnreadableQuantityError as error:
            if not error.numeric:
                raise ValueRefused(wanted(column)) from None
            hint = did_you_mean(error.unit, filter(None, UNITS[column.kind]))
            raise ValueRefused(error.wanted, hint) from None
    else:
        raise ValueRefused(wanted(column))
    value = _within(value, column.bounds, column)
    if column.whole:
        if value != round(value):
            raise ValueRefused(f"whole {column.unit}")
        return int(value)
    return value


def _whole(raw: object, column: ColumnReading) -> int:
    if isinstance(raw, str) and re.fullmatch(r"[+-]?\d{1,15}", raw.strip()):
        raw = int(raw)
    if isinstance(raw, float) and raw.is_integer():
        raw = int(raw)
    if not isinstance(raw, int) or isinstance(raw, bool):
        raise ValueRefused(wanted(column))
    _within(raw, column.bounds, column)
    return raw


def _flag(raw: object, column: ColumnReading) -> bool:
    if isinstance(raw, bool):
        return raw
    if isinstance(raw, str) and tidy(raw) in (*_YES, *_NO):
        return tidy(raw) in _YES
    raise ValueRefused(wanted(column))


def _as_text(raw: object) -> str | None:
    """Text as it is, whole numbers too: a pour called 114 is 114.0 in a workbook."""
    if isinstance(raw, str):
        return raw.strip()
    if isinstance(raw, float) and raw.is_integer() and abs(raw) < 1e15:
        raw = int(raw)
    if isinstance(raw, int) and not isinstance(raw, bool):
        return str(raw)
    return None


def _text(raw: object, column: ColumnReading) -> str:
    text = _as_text(raw)
    if text is None:
        raise ValueRefused(wanted(column))
    if not text.isprintable() or len(text) > 200:
        raise ValueRefused("one line of text, at most 200 characters")
    return text


def _id(raw: object, column: ColumnReading) -> str:
    text = _as_text(raw)
    if text is None:
        raise ValueRefused(wanted(column))
    if not _ID.fullmatch(text):
        raise ValueRefused(WANTED_ID)
    return text


def _listed(raw: object, column: ColumnReading) -> list[str]:
    """Give the items of a list, or of a text with commas between them."""
    items = raw.split(",") if isinstance(raw, str) else raw
    if not isinstance(items, list):
        raise ValueRefused(wanted(column))
    texts = [_as_text(item) for item in items]
    if None in texts:
        raise ValueRefused(wanted(column))
    low = column.bounds.low
    if low is not None and len(texts) < low:
        what = called(column.refers) or "word"
        hint = "" if column.refers else f"Words: {one_of(column.words)}"
        raise ValueRefused(f"at least {low:g} {what}", hint)
    listed = [text for text in texts if text is not None]
    if len(set(listed)) < len(listed):
        twice = next(text for text in listed if listed.count(text) > 1)
        raise ValueRefused("", found=f"duplicate {say(twice)}")
    return listed


def _texts(raw: object, column: ColumnReading) -> tuple[str, ...]:
    return tuple(_listed(raw, column))


def _match(word: str, column: ColumnReading) -> str:
    by_form = {tidy(allowed): allowed for allowed in column.words}
    if tidy(word) not in by_form:
        raise ValueRefused(one_of(column.words), did_you_mean(word, column.words))
    return by_form[tidy(word)]


def _word(raw: object, column: ColumnReading) -> str:
    text = _as_text(raw)
    if text is None:
        raise ValueRefused(wanted(column))
    return _match(text, column)


def _words(raw: object, column: ColumnReading) -> tuple[str, ...]:
    found = []
    for word in _listed(raw, column):
        try:
            found.append(_match(word, column))
        except ValueRefused as no:
            raise ValueRefused(no.wanted, no.hint, found=say(word)) from None
    return tuple(found)


def _clock(raw: object, column: ColumnReading) -> time:
    del column  # every clock time is read alike
    return read_clock(raw)


def _date(raw: object, column: ColumnReading) -> date:
    del column  # every date is read alike
    if isinstance(raw, str) and _DATE.fullmatch(raw.strip()):
        with suppress(ValueError):
            raw = date.fromisoformat(raw.strip())
    if not isinstance(raw, date) or isinstance(raw, datetime):
        raise ValueRefused(WANTED_DATE)
    if not FIRST_YEAR <= raw.year <= LAST_YEAR:
        raise ValueRefused(f"a year from {FIRST_YEAR} to {LAST_YEAR}")
    return raw


def _breaks(raw: object, column: ColumnReading) -> tuple[Break, ...]:
    spans = []
    for text in _listed(raw, column):
        match = _SPAN.fullmatch(text)
        if not match:
            raise ValueRefused(WANTED_SPAN, found=say(text))
        starts, ends = (read_clock(clock) for clock in match.groups())
        if starts == ends:
            raise ValueRefused("a break that ends after it starts", found=say(text))
        spans.append(Break(starts=starts, ends=ends))
    return tuple(spans)


def _pairs(raw: object, column: ColumnReading) -> tuple[tuple[object, ...], ...]:
    """Read a list of pairs; the first bad pair is refused."""
    if not isinstance(raw, list) or not raw:
        raise ValueRefused(wanted(column))
    pairs = []
    for number, item in enumerate(raw, start=1):
        if not isinstance(item, list) or len(item) != len(column.pair):
            raise ValueRefused(wanted(column), found=f"{say(item)} as pair {number}")
        values = []
        for value, part in zip(item, column.pair, strict=True):
            try:
                values.append(_quantity(value, part))
            except ValueRefused as no:
                found = f"{say(value)} in pair {number}"
                raise ValueRefused(no.wanted, no.hint, found) from None
        pairs.append(tuple(values))
    return tuple(pairs)


_READERS: dict[Sort, Callable[[object, ColumnReading], object]] = {
    "quantity": _quantity,
    "whole": _whole,
    "flag": _flag,
    "word": _word,
    "words": _words,
    "text": _text,
    "texts": _texts,
    "id": _id,
    "clock": _clock,
    "date": _date,
    "breaks": _breaks,
    "pairs": _pairs,
}
