"""Which entries stand: corrections come in the place of what they correct."""

from collections.abc import Iterable

from models.records import Entry


def standing(entries: Iterable[Entry]) -> tuple[Entry, ...]:
    """Give the entries that no later one corrects or withdraws, in order of number."""
    known = tuple(entries)
    corrected = {entry.corrects for entry in known}
    return tuple(
        entry
        for entry in known
        if entry.number not in corrected and entry.kind != "withdrawn"
    )
