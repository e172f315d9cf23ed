"""A PostgreSQL server of the tests' own, in a folder of its own, on a socket alone.

A machine without PostgreSQL leaves these tests out and says so; where
``KEEPDAMP_POSTGRES=required`` is set, as in the checks before a change lands, missing
it is an error.
"""

import os
import shutil
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import mkdtemp

DEBIANS = sorted(Path("/usr/lib/postgresql").glob("*/bin/initdb"))
ON_PATH = shutil.which("initdb")
BIN = DEBIANS[-1].parent if DEBIANS else ON_PATH and Path(ON_PATH).parent
#: The server refuses to run as root; Debian's package brings this user.
USER = "postgres"

if not BIN and os.environ.get("KEEPDAMP_POSTGRES") == "required":
    raise RuntimeError("KEEPDAMP_POSTGRES=required, but there is no PostgreSQL server")


@contextmanager
def server() -> Iterator[str]:
    """Start a server; give the connection string of a database in it."""
    # Not under pytest's own folder: the path of a socket takes 107 signs at most.
    folder = Path(mkdtemp(prefix="ledger-"))
    if os.getuid() == 0:
        shutil.chown(folder, USER)
    data, log = folder / "data", folder / "log"
    try:
        _run("initdb", "-D", data, "-U", USER, "-A", "trust", "-E", "UTF8", "-N")
        options = f"-k {folder} -c listen_addresses=''"
        _run("pg_ctl", "-D", data, "-l", log, "-w", "-o", options, "start")
        try:
            yield f"host={folder} user={USER} dbname=postgres"
        finally:
            _run("pg_ctl", "-D", data, "-m", "immediate", "-w", "stop")
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def _run(program: str, *words: object) -> None:
    assert BIN
    command = [str(BIN / program), *map(str, words)]
    if os.getuid() == 0:
        command = ["runuser", "-u", USER, "--", *command]
    done = subprocess.run(
        command, cwd="/", stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True
    )
    assert done.returncode == 0, done.stderr
