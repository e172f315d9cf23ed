"""One figure for all that a site folder says, to know whether it has changed."""

from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path

#: What a site is read from.
_READ = (
    "site.toml", "pours.csv", "pours.xlsx", "weather.csv", "*.epw", "*.EPW",
    "readings.csv", "profiles/*.toml",
)  # fmt: skip


def input_digest(folder: Path) -> str:
    """Return the SHA-256 over the files of a site folder, in hexadecimal digits.

    Other files that lie there do not count.
    """
    digest = sha256()
    for path in sorted(set(_inputs(folder))):
        name, content = path.relative_to(folder).as_posix().encode(), path.read_bytes()
        for part in (name, content):
            digest.update(len(part).to_bytes(8, "big") + part)
    return digest.hexdigest()


def _inputs(folder: Path) -> Iterator[Path]:
    return (path for name in _READ for path in folder.glob(name) if path.is_file())
