"""Whether rows are work that can be done: long enough, able hands, in order."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from math import ceil

from tests.bench.yard.facts import FOG_M2, JobFacts, SiteFacts, SurfaceFacts
from tests.bench.yard.people import gangs
from tests.bench.yard.rows import Row
from tests.bench.yard.strips import Strip

#: Small sheets and blankets may go on so much before the surface is ready. [min]
EARLY_MIN = 30
#: Putting cloth into water, worker-minutes for a square metre (assumption).
SOAK_AHEAD_MIN_M2 = 0.05
_MIXED_WITHIN_MIN = 240
_BETWEEN_COATS_MIN = 30
_ROUNDED = 1.02


def least_min(facts: SiteFacts, row: Row) -> int | None:
    """Least minutes that a row takes with its people; None if it is no such work."""
    of = facts.surfaces[row.surface_id]
    area_m2 = of.work.area_m2 * row.share
    if row.action == "fog":
        return 0
    if row.action == "soak_ahead":
        work = SOAK_AHEAD_MIN_M2 * area_m2 / max(1, row.people)
        return row.set_up_min + ceil(work - 0.01)
    if row.action == "other":
        task = _special(of, row)
        return None if task is None else ceil(task / max(1, row.people))
    job = _job(of, row)
    if job is None:
        return None
    if job.fixed_min:
        return job.fixed_min
    work = job.per_m2_min * area_m2 / max(1, row.people)
    if row.point and job.litres_l_m2:
        flow = facts.flow_l_min(row.people, row.point)
        work = max(work, job.litres_l_m2 * area_m2 / flow)
    return row.set_up_min + max(1, ceil(round(work, 3) - 0.02))


def _special(of: SurfaceFacts, row: Row) -> int | None:
    """Worker-minutes of work that has no action of its own."""
    for task in of.work.tasks:
        if task.id.split("/", 1)[1] == row.task:
            return task.duration_min * task.people
    return None


def _job(of: SurfaceFacts, row: Row) -> JobFacts | None:
    return next((job for name, job in of.jobs.items() if name == row.action), None)


def out_of_order(
    facts: SiteFacts, rows: Sequence[Row], strips: dict[str, list[Strip]]
) -> Iterator[str]:
    """Find rows that are no work, too short, or come before what they build on."""
    by_surface: dict[str, list[Row]] = defaultdict(list)
    for row in rows:
        by_surface[row.surface_id].append(row)
    skills: dict[str, set[str]] = {
        crew: set(gang.shift.skills) for gang in gangs(facts) for crew in gang.members
    }
    for row in rows:
        if row.action == "break" or row.people == 0:
            continue
        at = facts.work.horizon.at(row.start_min)
        for words in (
            *_possible(facts, row, skills.get(row.crew, set())),
            *_in_order(facts.surfaces[row.surface_id], row, by_surface[row.surface_id]),
            *_there(row, strips[row.surface_id]),
        ):
            yield f"{words}: {at:%a %d %H:%M} UTC {row.words}"
    for sid, own in strips.items():
        yield from _whole(facts.surfaces[sid], sid, by_surface[sid], own)


def _possible(facts: SiteFacts, row: Row, skills: set[str]) -> Iterator[str]:
    of, job = facts.surfaces[row.surface_id], None
    least = least_min(facts, row)
    if least is None:
        yield "no such work there"
        return
    if row.end_min - row.start_min < least:
        yield f"too little time, {row.end_min - row.start_min} of {least} min"
    job = _job(of, row)
    if job is not None and row.people < job.fewest:
        yield f"too few people, needs {job.fewest}"
    if job is not None and not set(job.tasks[0].skills) <= skills:
        yield f"skill missing, {', '.join(job.tasks[0].skills)}"
    if row.action == "fog":
        if "fogger" not in skills:
            yield "skill missing, fogger"
        if row.share * of.work.area_m2 > FOG_M2 * row.people * _ROUNDED:
            yield f"too few people, one fogs {FOG_M2:.0f} m²"


def _in_order(of: SurfaceFacts, row: Row, own: Sequence[Row]) -> Iterator[str]:
    dry = of.work.curve is None or "spray" not in of.jobs
    early = EARLY_MIN if of.is_small and dry and row.action == "lay" else 0
    job = _job(of, row)
    begins = job if row.action in {"lay", "spray", "change"} else None
    if begins and row.start_min < begins.earliest_min - early:
        yield "before the surface is ready"
    if row.action == "lift" and row.start_min < of.work.ends_min:
        yield "lifted before the end of curing"
    if row.action in {"lift", "loosen"} and job is not None:
        first = min(
            j.earliest_min for n, j in of.jobs.items() if n in {"lift", "loosen"}
        )
        if row.start_min < first:
            yield "lifted before the first cool morning"
    if row.action == "lift" and job is not None and "loosen" in of.jobs:
        gap = max((x.min_gap_min for t in job.tasks for x in t.after), default=0)
        loose = [one.end_min for one in own if one.action == "loosen"]
        if not loose or row.start_min < max(loose) + gap:
            yield "lifted before it was loosened"
    if row.action == "spray" and "mix" in of.jobs:
        mixed = (row.start_min - one.end_min for one in own if one.action == "mix")
        if not any(0 <= gap <= _MIXED_WITHIN_MIN for gap in mixed):
            yield "no compound mixed"


def _there(row: Row, strips: Sequence[Strip]) -> Iterator[str]:
    """Find work on a cover that lies nowhere on the surface."""
    if row.action not in {"first_soak", "rewet", "lift", "loosen"}:
        return
    on = any(one.on_min is not None and one.on_min <= row.end_min for one in strips)
    off = all(
        one.off_min is not None and one.off_min <= row.start_min for one in strips
    )
    if not on or (off and row.action != "lift"):
        yield "work on a cover that is not there"


def _whole(
    of: SurfaceFacts, surface_id: str, own: Sequence[Row], strips: Sequence[Strip]
) -> Iterator[str]:
    for strip in strips:
        coats = sorted(strip.coats_min)
        sprays = "spray" in of.jobs and len(coats) > 1
        if sprays and coats[1] - coats[0] < _BETWEEN_COATS_MIN:
            yield f"second coat on a wet first: {surface_id}"
            break
    for action in ("lay", "lift", "spray", "change"):
        total = sum(row.share for row in own if row.action == action)
        job = next((job for name, job in of.jobs.items() if name == action), None)
        if job is not None and total > job.times + 0.01:
            yield f"more than the whole: {action} {surface_id}, {total:.2f}"
