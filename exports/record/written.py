"""Curing records on the disk: beside the folder ``out``, which is replaced whole."""

import os
from pathlib import Path
from tempfile import mkstemp

from exports.record.curing_record import SignedRecord
from exports.record.record_table import record_csv
from exports.record.render import render
from exports.text import file_name
from models.errors import InputError, Place, Problem

FOLDER = "records"


def write_record(site: Path, signed: SignedRecord) -> tuple[Path, ...]:
    """Write a record as PDF and CSV; each file is there whole, or as it was before.

    Raises
    ------
    InputError
        If the disk does not take them.
    """
    folder = site / FOLDER
    stem = file_name(signed.record.surface_id)
    made = {
        folder / f"{stem}.pdf": render(signed),
        folder / f"{stem}.csv": record_csv(signed),
    }
    try:
        folder.mkdir(exist_ok=True)
        _put(made)
    except OSError as error:
        found = f"cannot be written: {(error.strerror or str(error)).lower()}"
        raise InputError([Problem(Place(str(folder)), "", found)]) from error
    return tuple(made)


def _put(made: dict[Path, bytes]) -> None:
    """Write all beside their places first, then put each in its own."""
    fresh: dict[Path, Path] = {}
    try:
        for path, content in made.items():
            handle, name = mkstemp(prefix=f".{path.name}-", dir=path.parent)
            fresh[path] = Path(name)
            with os.fdopen(handle, "wb") as file:
                file.write(content)
                file.flush()
                os.fsync(file.fileno())
            fresh[path].chmod(0o644)  # mkstemp's own is for its maker alone
        for path, beside in fresh.items():
            beside.replace(path)
    finally:
        for beside in fresh.values():
            beside.unlink(missing_ok=True)
