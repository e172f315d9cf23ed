"""What a site asks of any plan, by action: rates, windows, people, looks and weights.

Taken from the work list, so from the project's own clocks and methods; a change of
these changes the yardstick for every plan alike. Rates are worker-minutes for a square
metre: how a planner cuts or staffs a job makes no difference here.
"""

from collections import defaultdict
from dataclasses import dataclass
from typing import Literal

import numpy as np

from models.local_clock import WeekClock
from models.records import SurfaceWork, Task, TaskKind, WorkList
from tests.bench.sense.course import Floats, loss_l_m2_min, weight_by_minute

SET_UP_MIN = 6  # hose out, covers or tools at hand; the method table's typical figure
HOSE_L_MIN = 20.0  # through one hose
#: One person fogs so much, through a nozzle of so many litres a minute.
FOG_M2, NOZZLE_L_MIN = 150.0, 1.9

Action = Literal[
    "soak_ahead", "lay", "change", "first_soak", "rewet", "fog", "mix", "spray", "look",
    "hold", "check", "loosen", "lift", "other",
]  # fmt: skip
_ACTIONS: dict[TaskKind, Action] = {
    "lay_cover": "lay", "change_cover": "change", "soak": "first_soak",
    "rewet": "rewet", "fog": "fog", "mix_compound": "mix", "spray_compound": "spray",
    "inspect": "look", "read_temperature": "look", "check_level": "look",
    "hold_point": "hold", "check_coverage": "check", "loosen": "loosen",
    "remove_cover": "lift",
}  # fmt: skip
#: Fewest people who can do it safely (common practice, no source); else one.
_FEWEST: dict[Action, int] = {"lay": 2, "change": 2, "lift": 2, "loosen": 2, "spray": 2}


@dataclass(frozen=True)
class JobFacts:
    """An action on a surface.

    Attributes
    ----------
    per_m2_min : float
        Worker-minutes for a square metre; 0 where only water takes the time.
    fixed_min : int
        Its length where it does not go by area, else 0.
    times : int
        How often the whole surface is done: coats.
    """

    tasks: tuple[Task, ...]
    per_m2_min: float
    litres_l_m2: float
    fewest: int
    fixed_min: int
    times: int

    @property
    def earliest_min(self) -> int:
        """First minute at which it may begin."""
        return min(task.earliest_min for task in self.tasks)


@dataclass(frozen=True)
class SurfaceFacts:
    """A surface and all that may be done on it.

    Attributes
    ----------
    bare_weight, dry_weight : array (minutes,)
        Price of a bare and of a dry minute of 100 m² by risk and age, whatever the
        site's own price of area.
    """

    work: SurfaceWork
    jobs: dict[Action, JobFacts]
    bare_weight: Floats
    dry_weight: Floats
    loss_l_m2: Floats

    @property
    def cells(self) -> int:
        """Strips in which it is followed."""
        return 10 if self.work.area_m2 >= 25 else 2

    @property
    def ready_min(self) -> int | None:
        """From when a cover or the first coat may go on."""
        first = self.jobs.get("lay") or self.jobs.get("spray")
        return first.earliest_min if first else None

    @property
    def is_small(self) -> bool:
        """Whether a single sheet covers it, which may go on a little early."""
        return self.work.area_m2 <= 25


@dataclass(frozen=True)
class SiteFacts:
    """Everything that a plan of a site is held against."""

    work: WorkList
    surfaces: dict[str, SurfaceFacts]

    @property
    def length_min(self) -> int:
        """Minutes of the week."""
        return self.work.horizon.length_min

    @property
    def clock(self) -> WeekClock:
        """The wall's clock of the week."""
        return WeekClock(self.work.timezone, self.work.horizon)

    def flow_l_min(self, people: int, point: str) -> float:
        """Most that flows through so many people's hoses."""
        supply = next(s for s in self.work.supplies if s.id == point)
        return min(HOSE_L_MIN * people, supply.flow_l_min)


def site_facts(work: WorkList) -> SiteFacts:
    """Take the facts out of a work list."""
    return SiteFacts(work, {s.surface_id: _surface(work, s) for s in work.surfaces})


def action_of(task: Task) -> Action:
    """What a task is as a plan names it; a change to compound is work of its own."""
    if task.kind == "soak_ahead":
        return "soak_ahead"
    if task.kind == "change_cover" and task.skills == ("sprayer",):
        return "other"
    staged = "/change" in task.id and task.kind not in {"change_cover", "loosen"}
    inspects = task.facts.inspects
    if staged and not inspects and task.kind != "remove_cover":
        return "other"
    return _ACTIONS.get(task.kind, "other")


def _surface(work: WorkList, surface: SurfaceWork) -> SurfaceFacts:
    grouped: dict[Action, list[Task]] = defaultdict(list)
    for task in surface.tasks:
        grouped[action_of(task)].append(task)
    if surface.rewet is not None:
        grouped["rewet"].append(surface.rewet)
    jobs: dict[Action, JobFacts] = {
        action: _job(work, surface, action, tasks)
        for action, tasks in grouped.items()
        if action not in {"other", "soak_ahead"}
    }
    length = work.horizon.length_min
    costs = work.costs
    by_area = (surface.area_m2 / 100) ** costs.area_power
    own = costs.dry_cost_per_min * max(costs.area_floor_factor, by_area)
    return SurfaceFacts(
        surface,
        jobs,
        weight_by_minute(surface.fresh_weights, length) / own,
        weight_by_minute(surface.weights, length) / own,
        loss_l_m2_min(surface, length),
    )


def _job(
    work: WorkList, surface: SurfaceWork, action: Action, tasks: list[Task]
) -> JobFacts:
    if action in {"look", "hold", "check", "mix", "fog"}:
        return JobFacts(tuple(tasks), 0, 0, 1, tasks[0].duration_min, len(tasks))
    coats = len({task.title for task in tasks}) if action == "spray" else 1
    first = [task for task in tasks if task.title == tasks[0].title]
    hand_min = sum((t.duration_min - SET_UP_MIN) * t.people for t in first)
    litres_l = sum(task.water.litres_l for task in first if task.water)
    flow = min(
        HOSE_L_MIN * first[0].people,
        max(_flow(work, point) for point in work.water_points[surface.zone_id]),
    )
    by_flow_min = litres_l / len(first) / flow
    if litres_l and by_flow_min > first[0].duration_min - SET_UP_MIN - 1.01:
        hand_min = 0  # the flow is what takes the time
    under_sheet = action == "rewet" and "sheet" in first[0].title
    return JobFacts(
        tuple(tasks),
        hand_min / surface.area_m2,
        litres_l / surface.area_m2,
        2 if under_sheet else _FEWEST.get(action, 1),
        0,
        coats,
    )


def _flow(work: WorkList, point: str) -> float:
    return next(s.flow_l_min for s in work.supplies if s.id == point)


def half_up(value: float) -> int:
    """Round to whole minutes, halves up, so that every machine rounds alike."""
    return int(np.floor(value + 0.5))
