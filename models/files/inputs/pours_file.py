"""``pours.csv`` or ``pours.xlsx``: the pour programme, one row a pour."""

from collections.abc import Iterable
from datetime import datetime
from pathlib import Path

from models.errors import Place
from models.files.formats.cell_sheet import read_rows
from models.files.formats.csv_file import read_csv
from models.files.formats.open_file import rename_hint
from models.files.formats.xlsx_file import read_xlsx
from models.files.reading.local_time import LocalTime
from models.files.reading.problems import ProblemCollector
from models.files.reading.record_reader import RawEntry
from models.files.reading.row_tables import POUR
from models.records import Horizon, Pour

CSV_NAME, XLSX_NAME, SHEET_NAME = "pours.csv", "pours.xlsx", "Pours"

PourEntries = tuple[RawEntry[Pour], ...]


def read_pours(
    folder: Path, local: LocalTime, problems: ProblemCollector
) -> PourEntries | None:
    """Read whichever of the two files is there; None if neither can be read."""
    csv_path, xlsx_path = folder / CSV_NAME, folder / XLSX_NAME
    if csv_path.exists() and xlsx_path.exists():
        found = f"both {CSV_NAME} and {XLSX_NAME} are there"
        problems.add(Place(XLSX_NAME), "", found, hint="Delete the outdated one")
        return None
    if not csv_path.exists() and not xlsx_path.exists():
        hint = rename_hint(folder, CSV_NAME) or f"{XLSX_NAME} will do as well"
        problems.add(Place(CSV_NAME), "", "file not found", hint=hint)
        return None
    sheet = (
        read_csv(csv_path, problems)
        if csv_path.exists()
        else read_xlsx(xlsx_path, SHEET_NAME, problems)
    )
    if sheet is None:
        return None
    entries = read_rows(sheet, POUR, local, problems)
    if len(sheet.rows) == 1:
        problems.add(sheet.place(sheet.rows[0].number), "", "no pours under the header")
    return entries


def check_pours(
    entries: Iterable[RawEntry[Pour]],
    horizon: Horizon | None,
    local: LocalTime,
    problems: ProblemCollector,
) -> None:
    """Refuse times that contradict one another or the planned week."""
    for entry in entries:
        starts_at = _instant(entry, "placing_starts_at")
        if horizon and starts_at and starts_at >= horizon.ends_at:
            entry.refuse(
                problems, "placing_start", local.words(starts_at),
                f"a time before the plan ends, {local.words(horizon.ends_at)}",
                "Plan a later week, or more 'days' in site.toml",
            )  # fmt: skip
        covered_at = _instant(entry, "covered_at")
        wetted_at = _instant(entry, "wetted_at")
        if wetted_at and "covered_at" not in entry.values:
            wanted = "when the cover was laid, as wetted_at is given"
            entry.refuse(problems, "covered_at", "", wanted)
            wetted_at = None
        for key, at in (("covered_at", covered_at), ("wetted_at", wetted_at)):
            if starts_at and at and at < starts_at:
                wanted = f"a time after placing_start, {local.words(starts_at)}"
                entry.refuse(problems, key, local.words(at), wanted)
            elif horizon and at and at > horizon.starts_at:
                entry.refuse(
                    problems, key, local.words(at),
                    f"a time up to week_start, {local.words(horizon.starts_at)}",
                    "What comes later is planned; to report more, start the week later",
                )  # fmt: skip


def surface_ids(entries: Iterable[RawEntry[Pour]]) -> tuple[str, ...]:
    """Name the surfaces of the pours: a top each, edges and faces if they have area."""
    ids: list[str] = []
    for entry in entries:
        pour_id = entry.text("id")
        if pour_id:
            ids.append(f"{pour_id}-top")
            if entry.values.get("edge_area_m2"):
                ids.append(f"{pour_id}-edges")
            if entry.values.get("formed_area_m2"):
                ids.append(f"{pour_id}-faces")
    return tuple(ids)


def first_placing(entries: Iterable[RawEntry[Pour]]) -> datetime | None:
    """Return the earliest start of placing that could be read."""
    starts = (_instant(entry, "placing_starts_at") for entry in entries)
    return min((at for at in starts if at), default=None)


def _instant(entry: RawEntry[Pour], field: str) -> datetime | None:
    value = entry.values.get(field)
    return value if isinstance(value, datetime) else None
