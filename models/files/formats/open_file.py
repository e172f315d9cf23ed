"""Opening: the only lines of keepdamp that read input from disk.

A file is looked at before it is read: a mistaken drop of a drawing or a video into the
folder must not fill the memory.
"""

from pathlib import Path

from models.files.reading.gather import Gatherer, Place

LARGEST_FILE_MB = 20
_MB = 1_000_000


def read_bytes(path: Path, gather: Gatherer, name: str = "") -> bytes | None:
    """Return a file's bytes; None, with the problem kept, if it cannot be read.

    ``name`` is what messages call the file, if not by its own name.
    """
    place = Place(name or path.name)
    gather.begin(place.file)
    try:
        size = path.stat().st_size
        if not path.is_file():
            gather.add(place, "", "something that is no file", "a file of that name")
            return None
        if size > LARGEST_FILE_MB * _MB:
            gather.add(
                place, "", f"a file of {size / _MB:.0f} MB",
                f"at most {LARGEST_FILE_MB} MB",
                "is it the right file? A year of hourly weather is under 1 MB",
            )  # fmt: skip
            return None
        return path.read_bytes()
    except FileNotFoundError:
        gather.add(place, "", "no such file", "a file of that name")
    except OSError as error:
        reason = (error.strerror or "an unreadable file").lower()
        gather.add(place, "", reason, "a file that may be read")
    return None


def read_text(path: Path, gather: Gatherer, name: str = "") -> str | None:
    """Return a file's text, without a byte order mark; None if it is not UTF-8."""
    data = read_bytes(path, gather, name)
    if data is None:
        return None
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        gather.add(
            Place(name or path.name, line), "",
            f"byte {data[error.start]:#04x} at position {error.start}", "UTF-8 text",
            "save the file again with the encoding UTF-8",
        )  # fmt: skip
        return None
