"""One folder put in the place of another, so that there is always a whole one."""

import ctypes
import os
import shutil
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from tempfile import mkdtemp

#: What a killed run left behind is nobody's work after so long. [s]
_LEFT_BEHIND_S = 3600
_AT_FDCWD, _EXCHANGE = -100, 2  # linux/fcntl.h, linux/fs.h


@contextmanager
def beside(folder: Path) -> Iterator[Path]:
    """Give an empty folder on the same disk; what is left of it in the end is removed.

    Those of earlier runs that were killed are removed too.
    """
    folder.parent.mkdir(parents=True, exist_ok=True)
    prefix = f".{folder.name}-"
    for left in folder.parent.glob(f"{prefix}*"):
        with suppress(OSError):
            if time.time() - left.stat().st_mtime > _LEFT_BEHIND_S:
                shutil.rmtree(left, ignore_errors=True)
    fresh = Path(mkdtemp(prefix=prefix, dir=folder.parent))
    try:
        fresh.chmod(0o755)  # mkdtemp's own is for its maker alone
        yield fresh
    finally:
        shutil.rmtree(fresh, ignore_errors=True)


def put_in_place(fresh: Path, folder: Path) -> None:
    """Put a folder in the place of another; on any fault the other stays.

    Where the system can exchange two folders there is no moment without one. Elsewhere
    there is one between two renames, and a kill in it leaves the earlier folder beside.
    """
    if not folder.exists():
        fresh.rename(folder)
    elif not _exchanged(fresh, folder):
        earlier = fresh.with_name(f"{fresh.name}-earlier")
        folder.rename(earlier)
        try:
            fresh.rename(folder)
        except BaseException:  # an interrupt, too
            earlier.rename(folder)
            raise
        shutil.rmtree(earlier, ignore_errors=True)


def _exchanged(one: Path, other: Path) -> bool:
    """Exchange two folders in one step; False where system or disk cannot."""
    if sys.platform != "linux":
        return False
    rename = getattr(ctypes.CDLL(None), "renameat2", None)
    if rename is None:
        return False
    names = os.fsencode(one), os.fsencode(other)
    failed: int = rename(_AT_FDCWD, names[0], _AT_FDCWD, names[1], _EXCHANGE)
    return not failed
