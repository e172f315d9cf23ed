"""Work lists with a bit of everything that can be listed, and the same reordered."""

from collections.abc import Iterator, Sequence
from typing import TypeVar

from hypothesis import strategies as st

from models.records import (
    CoverNeed,
    CoverSupply,
    CrewShift,
    Link,
    Record,
    Stretch,
    SurfaceWork,
    TakenFlow,
    TankDelivery,
    WaterSupply,
    WorkList,
)
from tests.scheduler.solver.small_weeks import weeks
from tests.scheduler.solver.solver_builders import duty, week

R = TypeVar("R", bound=Record)

#: Lists whose order means nothing.
LISTS = {
    "surfaces", "tasks", "after", "shifts", "hands", "breaks", "supplies", "days",
    "deliveries", "taken", "hours_limits", "shift_ids", "covers",
}  # fmt: skip
PAIR = ("crew0 a", "crew0 b")


@st.composite
def reordered(draw: st.DrawFn) -> tuple[WorkList, WorkList]:
    """A work list, and the same written down in another order."""
    work = draw(weeks(most_surfaces=3))
    one = work.model_copy(
        update={
            "surfaces": tuple(_with_more(surface) for surface in work.surfaces),
            "shifts": tuple(_in_pairs(work.shifts)),
            "supplies": tuple(_with_others(supply) for supply in work.supplies),
            "covers": tuple(
                CoverSupply(kind=kind, stock_m2=300)
                for kind in ("burlap_double", "plastic_sheet")
            ),
            "hours_limits": tuple(
                week(20, unit, shift_ids=(f"{unit}/day", "crew0/day")) for unit in PAIR
            ),
        }
    )
    zones = draw(st.permutations(range(len(one.zone_ids))))
    travel = one.travel_min
    return one, _shuffled(draw, one).model_copy(
        update={
            "zone_ids": tuple(one.zone_ids[i] for i in zones),
            "travel_min": tuple(tuple(travel[i][j] for j in zones) for i in zones),
            "water_points": dict(draw(st.permutations(list(one.water_points.items())))),
        }
    )


def _with_more(work: SurfaceWork) -> SurfaceWork:
    """Two more duties at one time, a third after both, and a cover from the stock."""
    name = work.surface_id
    pair = [duty(f"{name}/{n}", missed_cost=70, duration_min=10) for n in "ab"]
    links = tuple(Link(task_id=task.id) for task in pair)
    last = duty(f"{name}/last", missed_cost=90, duration_min=10, after=links)
    laid = next((task.id for task in work.tasks if task.covers), None)
    need = CoverNeed(
        kind="burlap_double", area_m2=work.area_m2, laid_by=laid,
        lies_from_min=None if laid else 0,
    )  # fmt: skip
    return work.model_copy(
        update={"tasks": (*work.tasks, *pair, last), "cover_needs": (need,)}
    )


def _in_pairs(shifts: Sequence[CrewShift]) -> Iterator[CrewShift]:
    """Give the first gang, unless it is on call, two parties and one break more."""
    gang, *others = shifts
    if gang.kind == "on_call":
        yield from shifts
        return
    late = Stretch(from_min=gang.ends_min - 12, until_min=gang.ends_min - 5)
    fields: dict[str, object] = {"breaks": (*gang.breaks, late), "hands": PAIR}
    gang = gang.model_copy(update={**fields, "people": 2})
    for unit in PAIR:
        own = {"id": f"{unit}/day", "crew_id": unit, "hands": (unit,), "people": 1}
        yield gang.model_copy(update={**own, "part_of": gang.id})
    yield from (gang, *others)


def _with_others(supply: WaterSupply) -> WaterSupply:
    """Let others draw at times, over two days; a tank has two deliveries."""
    takes = (
        TakenFlow(from_min=at, until_min=at + 30, flow_l_min=7) for at in (20, 120)
    )
    loads = (TankDelivery(at_min=at, litres_l=150) for at in (50, 130))
    return supply.model_copy(
        update={
            "taken": tuple(takes),
            "days": tuple(Stretch(from_min=a, until_min=a + 450) for a in (-360, 90)),
            "deliveries": tuple(loads) if supply.capacity_l else (),
        }
    )


def _shuffled(draw: st.DrawFn, record: R) -> R:
    """Shuffle the lists of a record, and of those in it, whose order means nothing."""
    update: dict[str, object] = {}
    for name in type(record).model_fields:
        value = getattr(record, name)
        if isinstance(value, tuple):
            parts = [_shuffled(draw, v) if isinstance(v, Record) else v for v in value]
            update[name] = tuple(
                draw(st.permutations(parts)) if name in LISTS else parts
            )
    return record.model_copy(update=update)
