"""The door for scripts: read a site folder, check it, plan it; all else may move."""

from pathlib import Path

from models.errors import InputError, KeepdampError, Problem
from models.files.site_folder import read_site
from models.records import AuditReport, Finding, Gap, Roster, SiteInput, Task, Visit
from scheduler import hand_out as handing_out
from scheduler import workflow
from scheduler.hand_out import HandedOut
from scheduler.workflow import BY_DEFAULT, Plan, PlanOptions

__all__ = [
    "AuditReport",
    "Finding",
    "Gap",
    "HandedOut",
    "InputError",
    "KeepdampError",
    "Plan",
    "PlanOptions",
    "Problem",
    "Roster",
    "SiteInput",
    "Task",
    "Visit",
    "check",
    "hand_out",
    "plan",
    "read",
]


def read(folder: Path | str) -> SiteInput:
    """Read a site folder.

    Raises
    ------
    InputError
        With every problem of its files.
    """
    return read_site(Path(folder))


def check(folder: Path | str, options: PlanOptions = BY_DEFAULT) -> tuple[Problem, ...]:
    """Give every problem for which a plan would be refused; empty if it would not."""
    try:
        handing_out.check(Path(folder), options)
    except InputError as error:
        return error.problems
    return ()


def plan(folder: Path | str, options: PlanOptions = BY_DEFAULT) -> Plan:
    """Plan a site folder's week and write nothing.

    Raises
    ------
    InputError
        With every problem of the folder, or of the published roster.
    """
    return workflow.plan(Path(folder), options)


def hand_out(folder: Path | str, options: PlanOptions = BY_DEFAULT) -> HandedOut:
    """Plan a site folder's week and write its ``out`` folder, whole or not at all.

    Raises
    ------
    InputError
        With every problem for which :func:`check` would refuse it.
    """
    return handing_out.hand_out(Path(folder), options)
