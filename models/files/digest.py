"""One figure for all that a site folder says, to know whether it has changed."""

from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path

#: Files and folders of a site folder that are made from the others.
_MADE = ("out", "records", "ledger.sqlite", "ledger.sqlite-journal")


def input_digest(folder: Path) -> str:
    """Return the SHA-256 over the files of a site folder, in hexadecimal digits.

    What the program itself writes there does not count, nor do hidden files.
    """
    digest = sha256()
    for path in sorted(_inputs(folder)):
        name, content = path.relative_to(folder).as_posix().encode(), path.read_bytes()
        for part in (name, content):
            digest.update(len(part).to_bytes(8, "big") + part)
    return digest.hexdigest()


def _inputs(folder: Path) -> Iterator[Path]:
    for path in folder.rglob("*"):
        first = path.relative_to(folder).parts[0]
        if path.is_file() and first not in _MADE and not first.startswith("."):
            yield path
