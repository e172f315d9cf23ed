"""The work list in an order of its own.

Where the order in which things were written down means nothing, it must change
nothing: neither which roster is found nor a byte of what is written of it.
"""

from models.records import CrewShift, SurfaceWork, Task, WaterSupply, WorkList


def ordered(work: WorkList) -> WorkList:
    """Sort surfaces, supplies and covers by name, shifts, weeks and tasks by time.

    What has a meaning in its order keeps it: water points, nearest first, and the
    covers of a surface, one after the other.
    """
    return work.model_copy(
        update={
            "surfaces": tuple(
                sorted(map(_surface, work.surfaces), key=lambda s: s.surface_id)
            ),
            "shifts": tuple(
                sorted(
                    map(_shift, work.shifts),
                    key=lambda s: (s.starts_min, s.crew_id, s.id),
                )
            ),
            "supplies": tuple(sorted(map(_supply, work.supplies), key=lambda s: s.id)),
            "covers": tuple(sorted(work.covers, key=lambda cover: cover.kind)),
            "hours_limits": tuple(
                sorted(
                    work.hours_limits,
                    key=lambda limit: (limit.starts_min, limit.kind, limit.crew_id),
                )
            ),
        }
    )


def _surface(work: SurfaceWork) -> SurfaceWork:
    """Sort tasks by time, though none before one that it follows."""
    waiting = sorted(map(_task, work.tasks), key=_by_time)
    tasks: dict[str, Task] = {}
    while waiting:
        ready = (t for t in waiting if all(link.task_id in tasks for link in t.after))
        task = next(ready, waiting[0])  # what follows itself can wait for ever
        waiting.remove(task)
        tasks[task.id] = task
    return work.model_copy(update={"tasks": tuple(tasks.values())})


def _by_time(task: Task) -> tuple[int, int, int, str]:
    return task.earliest_min, task.due_min, task.latest_min, task.id


def _task(task: Task) -> Task:
    links = sorted(task.after, key=lambda link: link.task_id)
    return task.model_copy(update={"after": tuple(links)}) if links else task


def _shift(shift: CrewShift) -> CrewShift:
    return shift.model_copy(update={"hands": tuple(sorted(shift.hands))})


def _supply(supply: WaterSupply) -> WaterSupply:
    days = sorted(supply.days, key=lambda day: day.from_min)
    return supply.model_copy(update={"days": tuple(days)})
