"""What a method puts on a surface, read off its tasks."""

from collections.abc import Iterable

from models.records import Supply, Task


def supplies_of(tasks: Iterable[Task]) -> tuple[Supply, ...]:
    """Name each material but water once, with its amount.

    Several kinds of work name the same stuff, as laying and lifting a cover do; so the
    kind that names most of it counts. A hold point only looks at what is ready.
    """
    by_kind: dict[str, dict[str, Supply]] = {}
    for task in tasks:
        if task.kind == "hold_point":
            continue
        for material in task.materials:
            if material.name == "water":
                continue
            kinds = by_kind.setdefault(material.name, {})
            one = Supply(
                name=material.name,
                area_m2=material.area_m2,
                volume_l=material.volume_l,
            )
            kinds[task.kind] = (
                _sum(kinds[task.kind], one) if task.kind in kinds else one
            )
    return tuple(
        max(kinds.values(), key=lambda s: (s.area_m2 or 0, s.volume_l or 0))
        for kinds in by_kind.values()
    )


def _sum(one: Supply, other: Supply) -> Supply:
    return Supply(
        name=one.name,
        area_m2=_add(one.area_m2, other.area_m2),
        volume_l=_add(one.volume_l, other.volume_l),
    )


def _add(one: float | None, other: float | None) -> float | None:
    return None if one is None and other is None else (one or 0) + (other or 0)
