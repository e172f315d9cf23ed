"""Solver and audit must tell the same story, or nothing is published."""

from collections import Counter
from collections.abc import Iterable, Iterator
from datetime import datetime

from models.errors import ContradictionError
from models.records import AuditReport, DryShare, Gap, ObjectivePart, Roster

#: Costs are sums of some ten thousand floats, in an order of each side's own.
SLACK_COST = 1e-6

GapKey = tuple[str, datetime, datetime, bool]


def disagreements(roster: Roster, report: AuditReport) -> tuple[str, ...]:
    """Everything the audit counted otherwise than the roster says, in sentences.

    What stood in the way of a gap or a missed duty is said by one side alone.
    """
    return (
        *(f"{finding.kind}: {finding.words}" for finding in report.violations),
        *_dry_minutes(roster, report),
        *_floors(roster, report),
        *_gaps(roster, report),
        *_missed(roster, report),
        *_amounts(roster, report),
        *_shares(roster, report),
        *_costs(roster, report),
    )


def require_agreement(roster: Roster, report: AuditReport) -> None:
    """Let a roster pass only if the audit confirms it.

    Raises
    ------
    ContradictionError
        With every statement of :func:`disagreements`.
    """
    if statements := disagreements(roster, report):
        raise ContradictionError(statements)


def _dry_minutes(roster: Roster, report: AuditReport) -> Iterator[str]:
    claimed: Counter[str] = Counter()
    for gap in roster.gaps:
        claimed[gap.surface_id] += gap.minutes
    for trace in report.surfaces:
        if claimed[trace.surface_id] != trace.dry_min:
            yield (
                f"{trace.label}: {claimed[trace.surface_id]} dry minutes in the "
                f"roster, {trace.dry_min} in the audit"
            )


def _floors(roster: Roster, report: AuditReport) -> Iterator[str]:
    """Ask that what is said to be the least is not more than there is."""
    least = {floor.surface_id: floor.dry_min for floor in roster.floors}
    for trace in report.surfaces:
        if trace.dry_min < least.get(trace.surface_id, 0):
            yield (
                f"{trace.label}: no roster could keep it below "
                f"{least[trace.surface_id]} dry minutes, says the roster; "
                f"{trace.dry_min} in the audit"
            )


def _gaps(roster: Roster, report: AuditReport) -> Iterator[str]:
    claimed, counted = set(_keys(roster.gaps)), set(_keys(report.gaps))
    for who, only in (("roster", claimed - counted), ("audit", counted - claimed)):
        for surface_id, starts_at, ends_at, covered in sorted(only):
            state = "covered" if covered else "bare"
            yield (
                f"{surface_id}: dry, {state}, {starts_at.isoformat()} to "
                f"{ends_at.isoformat()} only in the {who}"
            )


def _missed(roster: Roster, report: AuditReport) -> Iterator[str]:
    missed = {one.task_id for one in roster.missed}
    fallen = {task_id for one in roster.missed for task_id in one.fallen}
    for what, claimed, counted in (
        ("missed", missed, set(report.missed_task_ids)),
        ("falls away", fallen, set(report.fallen_task_ids)),
    ):
        for who, only in (("roster", claimed - counted), ("audit", counted - claimed)):
            for task_id in sorted(only):
                yield f"{task_id}: {what} only in the {who}"


def _keys(gaps: Iterable[Gap]) -> Iterator[GapKey]:
    return ((g.surface_id, g.starts_at, g.ends_at, g.covered) for g in gaps)


def _amounts(roster: Roster, report: AuditReport) -> Iterator[str]:
    claimed: dict[str, ObjectivePart] = {part.name: part for part in roster.objective}
    for name, amount in report.amount_by_part.items():
        part = claimed.get(name)
        if not _same(part.amount if part else 0.0, amount):
            said = f"{part.amount:g} {part.unit}" if part else "nothing"
            yield f"{name}: {said} in the roster, {amount:g} in the audit"


def _shares(roster: Roster, report: AuditReport) -> Iterator[str]:
    claimed = {(share.bare, share.age): share for share in roster.dry_shares}
    counted = {(share.bare, share.age): share for share in report.dry_shares}
    for key in sorted(claimed.keys() | counted.keys()):
        one, other = claimed.get(key), counted.get(key)
        if one is None or other is None or not _alike(one, other):
            state = "bare" if key[0] else "covered"
            yield (
                f"dry minutes, {state}, {key[1]}: {_told(one)} in the roster, "
                f"{_told(other)} in the audit"
            )


def _alike(one: DryShare, other: DryShare) -> bool:
    return (
        one.minutes == other.minutes
        and _same(one.area_time_m2_h, other.area_time_m2_h)
        and _same(one.cost, other.cost)
    )


def _told(share: DryShare | None) -> str:
    if share is None:
        return "none"
    return f"{share.minutes} ({share.area_time_m2_h:g} m² h, cost {share.cost:g})"


def _costs(roster: Roster, report: AuditReport) -> Iterator[str]:
    claimed: dict[str, float] = {part.name: part.cost for part in roster.objective}
    for name, cost in report.cost_by_part.items():
        if not _same(claimed.get(name, 0.0), cost):
            yield (
                f"{name}: costs {claimed.get(name, 0.0):g} in the roster, {cost:g} in "
                "the audit"
            )
    total = sum(report.cost_by_part.values())
    if not _same(roster.cost, total):
        yield f"total: {roster.cost:g} in the roster, {total:g} in the audit"


def _same(one: float, other: float) -> bool:
    return abs(one - other) <= SLACK_COST * max(1.0, abs(one), abs(other))
