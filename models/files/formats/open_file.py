"""Opening: the only lines of keepdamp that read input from disk.

A file's size is checked before it is read: a drawing or a video dropped into the folder
by mistake must not fill the memory.
"""

from pathlib import Path

from models.errors import Place
from models.files.reading.problems import ProblemCollector
from models.wording import nearest

LARGEST_FILE_MB = 20
_MB = 1_000_000


def read_bytes(path: Path, problems: ProblemCollector, name: str = "") -> bytes | None:
    """Return a file's bytes; None, with the problem kept, if it cannot be read.

    ``name`` is what messages call the file, if not by its own name.
    """
    place = Place(name or path.name)
    problems.begin(place.file)
    try:
        size = path.stat().st_size
        if not path.is_file():
            problems.add(place, "", "not a regular file")
            return None
        if size > LARGEST_FILE_MB * _MB:
            problems.add(
                place, "", f"a file of {size / _MB:.0f} MB",
                f"at most {LARGEST_FILE_MB} MB",
                "Is it the right file? A year of hourly weather is under 1 MB",
            )  # fmt: skip
            return None
        return path.read_bytes()
    except FileNotFoundError:
        problems.add(place, "", "file not found")
    except OSError as error:
        reason = (error.strerror or "unreadable").lower()
        problems.add(place, "", f"file cannot be read: {reason}")
    return None


def rename_hint(folder: Path, name: str) -> str:
    """Point to a file of the folder whose name is nearly the one that is missing."""
    near = nearest(name, sorted(path.name for path in folder.iterdir()))
    return f"Rename '{near}'?" if near else ""


def read_text(path: Path, problems: ProblemCollector, name: str = "") -> str | None:
    """Return a file's text, without a byte order mark; None if it is not UTF-8."""
    data = read_bytes(path, problems, name)
    if data is None:
        return None
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        problems.add(
            Place(name or path.name, line), "",
            f"not UTF-8 text: byte {data[error.start]:#04x} at position {error.start}",
            hint="Save the file again with the encoding UTF-8",
        )  # fmt: skip
        return None
