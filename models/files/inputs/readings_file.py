"""``readings.csv``, if there: measured concrete temperatures of surfaces."""

from pathlib import Path

from models.files.formats.cell_sheet import read_rows
from models.files.formats.csv_file import read_csv
from models.files.reading.local_time import LocalTime
from models.files.reading.problems import ProblemCollector
from models.files.reading.record_reader import RawEntry
from models.files.reading.row_tables import READING
from models.records import Reading

CSV_NAME = "readings.csv"


def read_readings(
    folder: Path, local: LocalTime, problems: ProblemCollector
) -> tuple[RawEntry[Reading], ...]:
    """Read all rows; none if there is no such file."""
    path = folder / CSV_NAME
    sheet = read_csv(path, problems) if path.exists() else None
    if sheet is None:
        return ()
    entries = read_rows(sheet, READING, local, problems)
    first: dict[tuple[object, ...], RawEntry[Reading]] = {}
    for entry in entries:
        if entry.record is None:
            continue
        key = (entry.record.surface_id, entry.record.at, entry.record.place)
        if key in first:
            found = "duplicate reading of this place and time"
            entry.refuse(problems, "at", found, hint=f"First at {first[key].place('')}")
        first.setdefault(key, entry)
    return entries
