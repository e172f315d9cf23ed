"""Light jobs, some of which are the death of their worker."""

import os
import signal
from pathlib import Path
from time import sleep

from scheduler.fleet.outcome import Outcome, Planned


def note(folder: Path) -> Outcome:
    """Only note that the folder was worked on."""
    with (folder / "tries").open("a") as tries:
        tries.write("x")
    return Planned(folder, folder.name, 1, 0, 0, 0, 0, 0.0, 0.0)


def tries(folder: Path) -> int:
    """Tell how often it was noted."""
    return len((folder / "tries").read_text())


def note_or_die(folder: Path) -> Outcome:
    """Note; be killed the first time at "once" and each time at "always"."""
    outcome = note(folder)
    if dies_now(folder):
        os.kill(os.getpid(), signal.SIGKILL)
    return outcome


def dies_now(folder: Path) -> bool:
    """Tell whether the worker is to die of the folder that it noted."""
    return folder.name == "always" or (folder.name == "once" and tries(folder) == 1)


def wait_long(folder: Path, **_: object) -> Outcome:
    """Work for longer than a test may take, and tidy up if told to stop."""
    try:
        (folder / "started").touch()
        sleep(600)
    finally:
        (folder / "tidied").touch()
    return note(folder)
