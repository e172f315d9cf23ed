"""Rules 11a and 11c: what a visit promises can be kept by those who come."""

from collections import Counter
from collections.abc import Iterator

from exports.entries import entries
from tests.bench.sense.verdict import Case, Verdict, counted
from tests.bench.sense.week import Week


def start_by_off_shift(week: Week) -> Verdict:
    """11a: the latest start that a sheet names lies in the shift of the visit."""
    return counted(
        "11a",
        "'start by' outside the shift",
        _off_shift(week),
        whole=len(week.jobs),
        most=0.05,
    )


def _off_shift(week: Week) -> Iterator[Case]:
    jobs = {job.visit.id: job for job in week.jobs}
    for entry in entries(week.site, week.roster, week.report):
        job = jobs[entry.visit_id]
        window = week.window_of(job)
        by = week.roster.horizon.minute(entry.start_by_at)
        if window is None or window.starts_min <= by <= window.closes_min:
            continue
        yield Case(
            abs(by - job.start_min),
            f"{week.who(job)}, shift "
            f"{week.span(window.starts_min, window.ends_min)}: "
            f"{job.task.full_title.lower()}, {job.work.label} planned "
            f"{week.at(job.start_min)}, start by {week.at(by)}",
        )


def late_duties(week: Week) -> Verdict:
    """11c: few duties end after they are due."""
    duties = [job for job in week.jobs if not job.is_rewet]
    late = [job for job in duties if job.end_min > job.task.due_min]
    kinds = Counter(job.task.kind.replace("_", " ") for job in late)
    cases = (
        Case(
            job.end_min - job.task.due_min,
            f"{job.task.full_title}, {job.work.label}: due "
            f"{week.at(job.task.due_min)}, done {week.at(job.end_min)}",
        )
        for job in late
    )
    unit = ", ".join(f"{n} {kind}" for kind, n in kinds.most_common(4))
    return counted("11c", "duties that end late", cases, len(duties), unit, most=0.1)
