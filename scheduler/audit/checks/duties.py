"""Whether work is done as asked: once, in full, in order, in its window, in time."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from math import inf

from models.local_clock import WeekClock
from models.records import Finding, Link, SurfaceWork, Task
from scheduler.audit.replayed.found import found
from scheduler.audit.replayed.jobs import Job, by_surface
from scheduler.audit.replayed.simulation import Simulation


def check_duties(
    jobs: Sequence[Job], simulation: Simulation, clock: WeekClock
) -> list[Finding]:
    """Check the tasks of each surface: broken promises and late work."""
    grouped = by_surface(jobs)
    findings: list[Finding] = []
    for column, work in enumerate(simulation.works):
        own = grouped.get(work.surface_id, [])
        covered_from, off_from = int(simulation.covered_from[column]), _off_from(own)
        for job in own:
            findings += _as_asked(job, clock)
            findings += _in_order(job, own, covered_from, off_from, clock)
            findings += _unseen(job, own, clock)
            if late := late_min(job, own):
                words = f"{job.words} is {late} min late"
                findings.append(
                    found(
                        clock, "late", words, job.start_min, job.end_min,
                        job=job, minutes=late,
                    )
                )  # fmt: skip
        findings += _one_at_a_time(own, clock)
    return findings


def late_min(job: Job, on_surface: Iterable[Job]) -> int:
    """Minutes a job ends after it is due, and starts after the longest wait allowed."""
    late = max(0, job.end_min - job.task.due_min)
    for link, before in _links(job, on_surface):
        if before is not None and link.max_gap_min is not None:
            late += max(0, job.start_min - before.end_min - link.max_gap_min)
    return late


def late_cost(job: Job, on_surface: Iterable[Job]) -> float:
    """Price of a job's lateness; always less than that of leaving the duty out."""
    cost = job.task.late_cost_per_min * late_min(job, on_surface)
    return min(cost, job.task.late_cost_most)


def undone_tasks(work: SurfaceWork, on_surface: Iterable[Job]) -> Iterator[Task]:
    """Tasks with a price on leaving them out that no job does, nor meets by wetting."""
    jobs = list(on_surface)
    done = {job.task.id for job in jobs}
    wetted = [job.start_min for job in jobs if job.task.effect == "wet"]
    for task in work.tasks:
        met = task.met_by_wetting and any(
            task.earliest_min <= start < task.latest_min for start in wetted
        )
        if task.missed_cost > 0 and task.id not in done and not met:
            yield task


def missed_tasks(
    work: SurfaceWork, on_surface: Iterable[Job]
) -> dict[str, tuple[str, ...]]:
    """Tell which tasks nobody does, by id, and which others fall away with each.

    A duty falls away with the first that is not done of what it follows. An inspection
    falls away too where that is over too late for it, and then nothing is told.
    """
    jobs = list(on_surface)
    tasks = {task.id: task for task in work.tasks}
    done: dict[str, Job] = {}
    for job in jobs:
        done.setdefault(job.task.id, job)
    found: dict[str, tuple[str, ...]] = {}
    for task in undone_tasks(work, jobs):
        root = _falls_with(task, tasks, done)
        if root is None:
            found.setdefault(task.id, ())
        elif root not in done:
            found[root] = (*found.get(root, ()), task.id)
    return found


def _falls_with(
    task: Task, tasks: Mapping[str, Task], done: Mapping[str, Job]
) -> str | None:
    last_start = task.latest_min - task.duration_min
    for link in task.after:
        if link.task_id not in done:
            further = _falls_with(tasks[link.task_id], tasks, done)
            return link.task_id if further is None else further
        too_late = _opens_min(link, done[link.task_id]) > last_start
        if too_late and task.facts.missed_as == "inspection":
            return link.task_id
    return None


def _as_asked(job: Job, clock: WeekClock) -> Iterator[Finding]:
    task, span = job.task, clock.span(job.start_min, job.end_min)
    takes = job.end_min - job.start_min
    if takes != task.duration_min:
        words = f"{job.words} {span} takes {takes} min; it needs {task.duration_min}"
        yield found(clock, "duration", words, job.start_min, job.end_min, job=job)
    if job.start_min < task.earliest_min:
        opens = clock.words(task.earliest_min)
        words = f"{job.words} starts {clock.words(job.start_min)}; earliest is {opens}"
        yield found(clock, "window", words, job.start_min, job.end_min, job=job)
    if job.end_min > task.latest_min:
        closes = clock.words(task.latest_min)
        words = f"{job.words} ends {clock.words(job.end_min)}; latest is {closes}"
        yield found(clock, "window", words, job.start_min, job.end_min, job=job)


def _in_order(
    job: Job, own: Sequence[Job], covered_from: int, off_from: float, clock: WeekClock
) -> Iterator[Finding]:
    here = (job.start_min, job.end_min)
    for link, before in _links(job, own):
        if before is None:
            words = f"{job.words} is planned, but not {link.task_id}, which comes first"
            yield found(clock, "order", words, *here, job=job)
        elif job.start_min < (opens_min := _opens_min(link, before)):
            words = (
                f"{job.words} starts {clock.words(job.start_min)}; after "
                f"{before.task.facts.doing} earliest is {clock.words(opens_min)}"
            )
            yield found(clock, "order", words, *here, job=job)
    if job.task.facts.on_cover and not covered_from <= job.start_min < off_from:
        what = (
            "comes before the cover is on"
            if job.start_min < covered_from
            else ("comes after the cover is off")
        )
        words = f"{job.words} {clock.words(job.start_min)} {what}"
        yield found(clock, "order", words, *here, job=job)
    first = next(other for other in own if other.task.id == job.task.id)
    if not job.is_rewet and first is not job:
        words = f"{job.words} is planned twice, {clock.words(job.start_min)} again"
        yield found(clock, "order", words, *here, job=job)


def _unseen(job: Job, own: Sequence[Job], clock: WeekClock) -> Iterator[Finding]:
    """Find a check before placing that is not, but could be, after the soaking."""
    if job.task.kind != "hold_point":
        return
    last_start = job.task.latest_min - job.task.duration_min
    lays = (task.earliest_min for task in job.work.tasks if task.facts.lays)
    laid_from = min(lays, default=inf)
    # Of the first cover: a later one's is due when that is to be laid already.
    soaks = (
        other.end_min
        for other in own
        if other.task.kind == "soak_ahead" and other.task.due_min <= laid_from
    )
    first = min(soaks, default=0)
    if job.start_min < first <= last_start:
        words = (
            f"{job.words} starts {clock.words(job.start_min)}; the covers it looks at "
            f"are in water from {clock.words(first)}"
        )
        yield found(clock, "order", words, job.start_min, job.end_min, job=job)


def _off_from(own: Iterable[Job]) -> float:
    """Minute at which the last cover is off: nobody works on it then; never if not."""
    lifting = [job for job in own if job.task.facts.lifts]
    parts = max((job.task.parts for job in lifting), default=0)
    done = len({job.task.id for job in lifting}) >= parts > 0
    return max(job.end_min for job in lifting) if done else inf


def _links(job: Job, own: Iterable[Job]) -> Iterator[tuple[Link, Job | None]]:
    """Each link of a job's task with the job it follows, None if that is not done."""
    first_done: dict[str, Job] = {}
    for other in own:
        first_done.setdefault(other.task.id, other)
    for link in job.task.after:
        yield link, first_done.get(link.task_id)


def _opens_min(link: Link, before: Job) -> int:
    """First minute at which a link lets a job start."""
    begun_min = before.start_min if link.from_start else before.end_min
    return begun_min + link.min_gap_min


def _one_at_a_time(own: Sequence[Job], clock: WeekClock) -> Iterator[Finding]:
    """Find jobs that begin while others go on which they may not be beside."""
    last: dict[str, Job] = {}  # of each group of jobs that may be beside each other
    for job in own:
        group = job.task.job
        for other_group, other in last.items():
            beside = bool(group) and group == other_group
            if job.start_min < other.end_min and not beside:
                words = (
                    f"{job.words} starts {clock.words(job.start_min)} while "
                    f"{other.task.facts.doing} goes on there until "
                    f"{clock.words(other.end_min)}"
                )
                yield found(
                    clock, "overlap", words, job.start_min, other.end_min, job=job
                )
        if group not in last or job.end_min > last[group].end_min:
            last[group] = job
