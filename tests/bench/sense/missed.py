"""Rule 13b: duties that nobody does although somebody stands idle."""

from collections.abc import Iterator

from models.records import Missed, Task
from tests.bench.sense.hands import Hands
from tests.bench.sense.remedies import Remedy, Supplies
from tests.bench.sense.verdict import Case, Verdict, counted
from tests.bench.sense.week import Week

_LATE_BY_MIN = 240  # a check later than that is worth nothing
_KEEPS = frozenset({"remove_cover", "loosen"})


def missed_beside_idle(week: Week) -> Verdict:
    """13b: no duty is missed while an able crew is idle long enough in its window."""
    missed = week.roster.missed
    return counted(
        "13b", "duties missed, an able crew idle", _beside(week), len(missed)
    )


def _beside(week: Week) -> Iterator[Case]:
    hands, supplies = Hands(week), Supplies(week)
    for missed in week.roster.missed:
        task, work = week.tasks[missed.task_id], week.works[missed.surface_id]
        within = _within(week, missed, task)
        if within is None:
            continue
        remedy = Remedy("re-wet", work, (task,))
        if not supplies.allow(remedy, within[0]):
            continue
        for team in week.teams.values():
            able = team.people >= task.people and set(task.skills) <= set(team.skills)
            spans = hands.openings(
                team, work, task.duration_min, within, overtime=False
            )
            span = next(spans, None) if able else None
            if span is not None:
                yield Case(
                    task.missed_cost,
                    f"{task.full_title}, {work.label}: {team.name} free to start "
                    f"{week.span(*span)} ({task.duration_min} min); told: "
                    f"{missed.words[:90]}",
                )
                break


def _within(week: Week, missed: Missed, task: Task) -> tuple[int, int] | None:
    """First and last start at which it would make sense; None if it would at none."""
    done, course = week.done(missed.surface_id), week.courses[missed.surface_id]
    if any(link.task_id not in done for link in task.after) or task.covers:
        return None
    first = max(
        [
            0,
            task.earliest_min,
            *(done[x.task_id].end_min + x.min_gap_min for x in task.after),
        ]
    )
    if task.kind in {"inspect", *_KEEPS}:
        if course.on_min is None:
            return None
        first = max(first, course.on_min)
    last = min(task.latest_min - task.duration_min, week.length_min - 1)
    if task.kind == "soak" and any(j.is_rewet for j in week.on[missed.surface_id]):
        return None
    if task.kind not in _KEEPS:
        last = min(last, max(task.due_min, first) + _LATE_BY_MIN)
    return (first, last) if first <= last else None
