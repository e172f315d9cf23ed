"""What the audit counted, told with the reasons that the explainer gives.

The audit finds and measures gaps and missed duties by itself; what stood in the way is
said once for all outputs, by whoever can try another visit. This joins the two.
"""

from collections.abc import Iterator, Sequence

from models.local_clock import WeekClock
from models.records import AuditReport, Finding, Gap, Missed, Roster
from scheduler.audit.replay import by_time
from scheduler.audit.replayed.found import found


def explained(
    report: AuditReport, roster: Roster, gaps: Sequence[Gap], missed: Sequence[Missed]
) -> AuditReport:
    """Add reasons to gaps, and a finding for each of them and each missed duty.

    Parameters
    ----------
    report : AuditReport
        Of the roster.
    gaps : sequence of Gap
        The gaps that the report holds, with their reasons.
    missed : sequence of Missed
        The duties that the report holds as missed.
    """
    clock = WeekClock(roster.timezone, roster.horizon)
    told = {(gap.surface_id, gap.starts_at, gap.covered): gap for gap in gaps}
    own = tuple(told[gap.surface_id, gap.starts_at, gap.covered] for gap in report.gaps)
    findings = [
        *report.findings,
        *_gaps(own, roster, clock),
        *_missed(missed, roster, clock),
    ]
    return report.model_copy(
        update={"gaps": own, "findings": tuple(sorted(findings, key=by_time))}
    )


def _gaps(gaps: Sequence[Gap], roster: Roster, clock: WeekClock) -> Iterator[Finding]:
    """Give a finding for each stretch of a gap, so that minutes add up by limit."""
    labels = {work.surface_id: work.label for work in roster.surfaces}
    for gap in gaps:
        state = "dry under its cover" if gap.covered else "bare and drying"
        for reason in gap.reasons:
            first = clock.horizon.minute(reason.starts_at)
            last = clock.horizon.minute(reason.ends_at)
            when = clock.span(first, last)
            yield found(
                clock, "gap",
                f"{labels[gap.surface_id]} is {state} {when}: {reason.words}",
                first, last, surface_id=gap.surface_id, limit=reason.limit,
                minutes=last - first,
            )  # fmt: skip


def _missed(
    missed: Sequence[Missed], roster: Roster, clock: WeekClock
) -> Iterator[Finding]:
    works = {work.surface_id: work for work in roster.surfaces}
    for one in missed:
        work = works[one.surface_id]
        task = next(t for t in work.tasks if t.id == one.task_id)
        what = f"{work.label} ({task.facts.verb.lower()})"
        words = f"{what}, due {clock.words(task.due_min)}, has nobody: {one.words}"
        yield found(
            clock, "missed", words, task.earliest_min, task.latest_min,
            surface_id=work.surface_id, limit=one.limit,
        )  # fmt: skip
