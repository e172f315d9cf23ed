"""A plan in a shape that no planner owns: rows of who does how much of what, when.

Columns: crew (gang or party), people, start and end (local ``YYYY-MM-DD HH:MM``),
surface, action, share (0 to 1 of the surface; rows add up strip by strip), water
(point), litres, task (special work, or the kind of cover of ``soak_ahead``) and who
(the members of the gang, ``0+2``; else those are sent who can come). Nobody is sent for
a row with 0 people. A ``break`` is a gang's own at another time than the site's.
"""

import csv
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from models.local_clock import WeekClock
from models.records import CoverNeed
from scheduler.audit.replayed.jobs import Job
from tests.bench.sense.week import Week
from tests.bench.yard.facts import FOG_M2, SET_UP_MIN, action_of, half_up

_RESUME_MIN = 70  # who goes on with a job within this time has his tools there


@dataclass(frozen=True)
class Row:
    """One piece of work; ``set_up_min`` is 0 where a gang goes on with its job."""

    crew: str
    people: int
    start_min: int
    end_min: int
    surface_id: str
    action: str
    share: float = 1.0
    point: str = ""
    litres_l: float = 0.0
    task: str = ""
    who: tuple[int, ...] = ()
    set_up_min: int = SET_UP_MIN
    goes_on: bool = False

    def passes_min(self, strip: int, strips: int) -> int:
        """Minute at which one of its strips is done."""
        work = self.end_min - self.start_min - self.set_up_min
        return self.start_min + self.set_up_min + half_up(work * (strip + 1) / strips)

    @property
    def words(self) -> str:
        """What it is, short."""
        share = f" {self.share:.0%}" if self.share < 1 else ""
        return f"{self.crew} ({self.people}) {self.action} {self.surface_id}{share}"


def read_rows(path: Path, clock: WeekClock) -> list[Row]:
    """Read a plan."""
    with path.open(encoding="utf-8", newline="") as lines:
        return in_order(_row(raw, clock) for raw in csv.DictReader(lines))


def _row(raw: dict[str, str], clock: WeekClock) -> Row:
    def minute(text: str) -> int:
        at = datetime.fromisoformat(text)  # as the wall shows it
        return clock.minute(at.date(), at.time())

    return Row(
        crew=raw["crew"], people=int(raw["people"]), start_min=minute(raw["start"]),
        end_min=minute(raw["end"]), surface_id=raw["surface"], action=raw["action"],
        share=float(raw["share"] or 1), point=raw.get("water") or "",
        litres_l=float(raw.get("litres") or 0), task=raw.get("task") or "",
        who=tuple(int(one) for one in (raw.get("who") or "").split("+") if one),
    )  # fmt: skip


def in_order(rows: Iterable[Row]) -> list[Row]:
    """Sort rows; who goes on with his own job sets up no second time."""
    done: list[Row] = []
    for row in sorted(rows, key=lambda r: (r.start_min, r.end_min, r.surface_id)):
        goes_on = any(
            (one.crew, one.action, one.surface_id)
            == (row.crew, row.action, row.surface_id)
            and 0 <= row.start_min - one.end_min <= _RESUME_MIN
            for one in done
        )
        set_up = 0 if goes_on or row.action == "fog" else row.set_up_min
        done.append(replace(row, goes_on=goes_on, set_up_min=set_up))
    return done


def rows_of(week: Week) -> list[Row]:
    """Give the rows of a roster; what was put into water by nobody has 0 people."""
    rows = []
    for job in week.jobs:
        task = job.task
        action = action_of(task)
        rows += [
            Row(
                crew=job.visit.crew_id, people=0, surface_id=job.work.surface_id,
                start_min=max(0, job.start_min - need.soak_lead_min),
                end_min=max(0, job.start_min - need.soak_lead_min),
                action="soak_ahead", task=need.kind,
            )
            for need in job.work.cover_needs
            if need.laid_by == task.id and _was_in_water(week, job, need)
        ]  # fmt: skip
        rows.append(
            Row(
                crew=job.visit.crew_id, people=task.people, start_min=job.start_min,
                end_min=job.end_min, surface_id=job.work.surface_id, action=action,
                share=_share(job, action), point=job.visit.water_point_id or "",
                litres_l=task.water.litres_l if task.water else 0.0,
                task=_task_word(job, action),
            )
        )  # fmt: skip
    return in_order(rows)


def _was_in_water(week: Week, laying: Job, need: CoverNeed) -> bool:
    """Whether covers lay in water that no visit of the roster put in."""
    if need.soaked_by is None:
        return need.soak_lead_min > 0
    soaked = need.soaked_by in week.done(laying.work.surface_id)
    return not soaked and laying.start_min < need.in_water_until_min


def _task_word(job: Job, action: str) -> str:
    """Name special work, and of a soaking the kind of cover."""
    if action == "soak_ahead":
        needs = job.work.cover_needs
        return next(need.kind for need in needs if need.soaked_by == job.task.id)
    return job.task.id.split("/", 1)[1] if action == "other" else ""


def _share(job: Job, action: str) -> float:
    """How much of its surface a visit does."""
    if action == "fog":
        return min(1.0, job.task.people * FOG_M2 / job.work.area_m2)
    return 1 / job.task.parts
