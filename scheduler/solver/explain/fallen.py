"""What falls away with work that nobody does, in words."""

from collections.abc import Iterable

from models.records import Task


def falls_away(task: Task, fallen: Iterable[Task]) -> str:
    """Say what there is no sense in where a task is not done; "" for nothing.

    ``fallen`` is what follows it, as ``not covered: its 6 inspections and lifting the
    cover fall away``.
    """
    names: dict[str, int] = {}
    for one in fallen:
        if one.kind == task.kind and one.parts == task.parts:
            continue  # what is left of the same job
        name = "inspection" if one.facts.inspects else one.facts.doing
        names[name] = names.get(name, 0) + (1 if one.part == 1 else 0)
    if not names:
        return ""
    inspections = names.pop("inspection", 0)
    parts = list(names)
    if inspections:
        plural = "s" if inspections > 1 else ""
        parts.insert(0, f"its {inspections} inspection{plural}")
    listed = " and ".join([", ".join(parts[:-1]), parts[-1]] if parts[1:] else parts)
    verb = "fall" if parts[1:] or inspections > 1 else "falls"
    state = "not covered: " if task.facts.lays and not task.facts.changes else ""
    return f"{state}{listed} {verb} away"
