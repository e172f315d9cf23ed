"""Compound, hold points, lifting, checks, looks: each in its time, by who is left."""

from collections.abc import Iterable
from math import ceil

from models.records import Task
from tests.bench.pencil.crew import Person
from tests.bench.pencil.outlook import Outlook
from tests.bench.pencil.spots import Spot
from tests.bench.yard.facts import Action, action_of

_MOST_SPRAYING, _SPRAYING_MIN = 4, 30
_MIXED_FOR_MIN = 200
_HOLD_BEFORE_MIN = 600
_NEVER = 1 << 40


def spray(day: Outlook, now: int) -> None:
    """Mix compound in time and spray both coats the same day."""
    for spot in day.by_rate(now):
        job = spot.facts.jobs.get("spray")
        if job is None or spot.whole("spray") or now < job.earliest_min - 20:
            continue
        mixed = spot.ended_min["mix"]
        stale = not spot.share["mix"] or mixed + _MIXED_FOR_MIN < now
        if "mix" in spot.facts.jobs and stale:
            _one(day, spot, "mix", now, "sprayer")
            continue
        coat = int(spot.share["spray"] + 1e-3)
        wait = 30 if coat and spot.share["spray"] - coat < 1e-3 else 0
        if now < max(job.earliest_min, mixed, spot.ended_min["spray"] + wait):
            continue
        wanted = coat + 1 - spot.share["spray"]
        for _, people in day.book.free(spot, now, "sprayer", overtime=True)[:1]:
            work_min = job.per_m2_min * spot.area_m2
            count = min(_MOST_SPRAYING, ceil(work_min / _SPRAYING_MIN))
            if len(people) >= job.fewest:
                day.book.send(
                    spot, "spray", people[: max(job.fewest, count)], now, 120,
                    wanted, overtime=True,
                )  # fmt: skip


def duties(day: Outlook, now: int, actions: Iterable[Action]) -> None:
    """Do holds, checks or looks that are due, one person each."""
    for action in actions:
        for spot in day.spots:
            job = spot.facts.jobs.get(action)
            for task in job.tasks if job else ():
                if task.id not in spot.done and _is_due(spot, task, now):
                    skill = task.skills[0]
                    if _one(day, spot, action, now, skill, task.latest_min):
                        spot.done.add(task.id)


def _is_due(spot: Spot, task: Task, now: int) -> bool:
    action = action_of(task)
    if not task.earliest_min <= now <= task.latest_min - task.duration_min:
        return False
    if action == "hold":
        return now >= task.due_min - _HOLD_BEFORE_MIN
    if action == "check":
        return spot.whole("spray") and spot.ended_min["spray"] <= now
    covered = spot.facts.work.covered_from_min is not None or (
        spot.share["lay"] > 0 and spot.ended_min["lay"] <= now
    )
    return covered and not spot.share["lift"]


def _one(
    day: Outlook, spot: Spot, action: Action, now: int, skill: str, until: int = _NEVER
) -> bool:
    """Send one person for a job of fixed length."""
    teams = day.book.free(spot, now, skill)
    people: list[Person] = [person for _, own in teams for person in own]
    people.sort(key=lambda p: day.book.crew.arrives_min(p, spot.id, now))
    for person in people[:1]:
        arrives = day.book.crew.arrives_min(person, spot.id, now)
        if arrives + spot.facts.jobs[action].fixed_min <= until:
            return day.book.send(spot, action, [person], now, 60) is not None
    return False


def lift(day: Outlook, now: int) -> None:
    """Loosen and lift what has cured, once it may be."""
    for spot in day.spots:
        for action in ("loosen", "lift"):
            _lift_by(day, spot, "loosen" if action == "loosen" else "lift", now)


def _lift_by(day: Outlook, spot: Spot, action: Action, now: int) -> None:
    job, work = spot.facts.jobs.get(action), spot.facts.work
    if job is None or spot.whole(action) or now < max(job.earliest_min, 0):
        return
    covered = work.covered_from_min is not None or spot.whole("lay")
    if not covered or now < work.ends_min or spot.ended_min["rewet"] > now:
        return
    if action == "lift" and "loosen" in spot.facts.jobs:
        gap = max((x.min_gap_min for t in job.tasks for x in t.after), default=0)
        if not spot.whole("loosen") or now < spot.ended_min["loosen"] + gap:
            return
    for _, people in day.book.free(spot, now, "labourer")[:1]:
        if len(people) < job.fewest:
            continue
        wanted = 1 - spot.share[action]
        length = day.spare_min(now, 60)
        row = day.book.send(spot, action, people[:5], now, length, wanted)
        if row is None or action == "loosen":
            continue
        ids = {task.id for task in job.tasks}
        for need in work.cover_needs:
            if ids & set(need.lifted_by):
                back = row.share * need.area_m2
                day.book.stock.give_back(need, back, row.end_min)


def special(day: Outlook, now: int) -> None:
    """Do work of other kinds whole, in its order."""
    for spot in day.spots:
        for task in spot.facts.work.tasks:
            name = task.id.split("/", 1)[1]
            if action_of(task) != "other" or name in spot.done:
                continue
            if not task.earliest_min <= now <= task.latest_min:
                continue
            if not all(_follows(spot, x.task_id) for x in task.after):
                continue
            litres = task.water.litres_l if task.water else 0.0
            for _, people in day.book.free(spot, now, task.skills[0])[:1]:
                if len(people) >= task.people:
                    sent = people[: task.people]
                    length = task.duration_min
                    if day.book.special(spot, name, sent, now, length, litres):
                        spot.done.add(name)


def _follows(spot: Spot, task_id: str) -> bool:
    name = task_id.split("/", 1)[1]
    if name in spot.done:
        return True
    task = next(t for t in spot.facts.work.tasks if t.id == task_id)
    action = action_of(task)
    return action != "other" and spot.whole(action)
