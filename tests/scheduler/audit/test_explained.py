"""What the audit counted, told with the reasons it is given."""

from models.records import AuditReport, Limit, Missed, Reason
from scheduler.audit.explained import explained
from tests.scheduler.audit.audit_builders import (
    at,
    audited,
    lay,
    roster,
    task,
    visit,
    work,
)

LAID = visit("lay", 300, 60)


def told() -> AuditReport:
    """A slab laid by 360 and dry from 840 to 1000, and a look that nobody does."""
    look = task("look", kind="inspect", missed_cost=150, due_min=900)
    works = [work(tasks=(lay(), look), ends_min=1000)]
    report = audited([LAID], works)
    (gap,) = report.gaps
    assert gap.reasons == ()

    def reason(first: int, last: int, limit: Limit) -> Reason:
        return Reason(starts_at=at(first), ends_at=at(last), limit=limit, words=limit)

    reasons = (reason(840, 960, "no_crew_on_shift"), reason(960, 1000, "travel"))
    with_reasons = gap.model_copy(update={"reasons": reasons})
    missed = Missed(
        task_id="P1-top/look", surface_id="P1-top", limit="rest", words="they rest"
    )
    plan = roster([LAID], works)
    return explained(report, plan, (with_reasons,), (missed,))


def test_a_gap_is_a_finding_a_stretch() -> None:
    found = [finding for finding in told().findings if finding.kind == "gap"]
    assert [(one.limit, one.minutes, one.words) for one in found] == [
        ("no_crew_on_shift", 120,
         "P1 top is dry under its cover Mon 20:00–22:00: no_crew_on_shift"),
        ("travel", 40, "P1 top is dry under its cover Mon 22:00–22:40: travel"),
    ]  # fmt: skip
    assert sum(one.minutes for one in found) == told().dry_min


def test_the_reports_gaps_carry_their_reasons() -> None:
    (gap,) = told().gaps
    assert [reason.limit for reason in gap.reasons] == ["no_crew_on_shift", "travel"]


def test_a_missed_duty_is_a_finding_with_its_reason() -> None:
    (found,) = [one for one in told().findings if one.kind == "missed"]
    assert (found.limit, found.words) == (
        "rest", "P1 top (inspect), due Mon 21:00, has nobody: they rest"
    )  # fmt: skip


def test_findings_stay_in_order_of_time() -> None:
    starts = [finding.starts_at for finding in told().findings]
    assert starts == sorted(starts)
