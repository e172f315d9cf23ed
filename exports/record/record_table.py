"""A curing record as a table: each section's rows, one under the other."""

from exports.record.curing_record import SignedRecord
from exports.tables.csv_file import csv_file
from exports.tables.table import Column, Table

_MOST_CELLS = 6
_COLUMNS = ("Section", "State", *(f"Cell {n + 1}" for n in range(_MOST_CELLS)))


def record_csv(signed: SignedRecord) -> bytes:
    """Write all that the page says, but for the picture, as CSV.

    A section begins with a row of its headings, marked so in the column of states.
    """
    record = signed.record
    rows: list[tuple[str, ...]] = [
        ("Record", "", record.title, record.zone_note),
        ("Record", "bad" if not record.is_over else "", "Verdict", record.verdict),
        ("Record", "", "Digest", signed.digest),
    ]
    rows += [("Amended after signing", "bad", line) for line in signed.amended]
    rows += [("Not met", "bad", line) for line in record.not_met]
    rows += [("Missing for sign-off", "open", line) for line in record.missing]
    rows += [("Surface", "", f.name, f.value, f.source) for f in record.facts]
    for section in record.sections:
        rows.append((section.title, "heading", *section.columns))
        for row in section.rows:
            state = "" if row.tone == "plain" else row.tone
            rows.append((section.title, state, *row.cells))
        if not section.rows:
            rows.append((section.title, "", section.none))
    for one in signed.signatures:
        gaps = f"{one.gaps} missing" if one.gaps else ""
        who = (one.name, one.role, one.when, f"entry {one.entry}", one.digest, gaps)
        rows.append(("Signatures", "", *who))
    rows += [("Notes", "", note) for note in record.notes]
    width = len(_COLUMNS)
    padded = tuple((*row, *[""] * (width - len(row))) for row in rows)
    return csv_file(Table("record", tuple(map(Column, _COLUMNS)), padded))
