"""Sites that are planned in a second, and a worker that is killed over one."""

import os
import signal
from pathlib import Path
from unittest.mock import patch

from scheduler.fleet.fleet import plan_site
from scheduler.fleet.outcome import Outcome
from scheduler.workflow import PlanOptions
from tests.models.files.folders import POURS, SITE, changed, write_site
from tests.scheduler.fleet.jobs import dies_now, note


def small_site(path: Path, area_m2: int) -> Path:
    """One slab of two days."""
    heading, slab = POURS.splitlines()[:2]
    return write_site(
        path,
        {
            "site.toml": changed(SITE, ("days = 7", "days = 2")),
            "pours.csv": f"{heading}\n{changed(slab, ('420', str(area_m2)))}\n",
            "readings.csv": None,
        },
    )


def files_of(folder: Path) -> dict[str, bytes]:
    """Give all bytes below a folder."""
    return {
        str(path.relative_to(folder)): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def plan_or_die(folder: Path, options: PlanOptions) -> Outcome:
    """Plan the site; killed between roster and writing as ``note_or_die`` is."""
    note(folder)
    if dies_now(folder):
        with patch("scheduler.hand_out.write_out", _die):
            return plan_site(folder, options)
    return plan_site(folder, options)


def _die(*_: object) -> None:
    os.kill(os.getpid(), signal.SIGKILL)
