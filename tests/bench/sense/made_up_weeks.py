"""A week of one slab that a foreman would sign, to be spoilt in one way at a time.

The builders' red gang of four works from minute 60 to 660, the night pair from 960 to
1440. The slab takes its cover from minute 420, when it would begin to dry; all four lay
it until 480. It holds 0.8 L/m² and loses 0.1 in an hour, so it is wet until minute 960;
curing ends at 900. One look at minute 600.
"""

from collections.abc import Sequence

from models.records import Site, Stretch, Surface, SurfaceWork, Task, Visit
from tests.bench.sense.judged import judged
from tests.bench.sense.verdict import Verdict
from tests.bench.sense.week import Week
from tests.builders import site_input
from tests.builders import surface as top
from tests.scheduler.audit.audit_builders import (
    HORIZON,
    LENGTH,
    audited,
    curve,
    roster,
    second,
    task,
    visit,
    work,
)

OTHER = "P2-top"


def lay(**fields: object) -> Task:
    """All four, an hour from minute 420."""
    base: dict[str, object] = {
        "kind": "lay_cover", "title": "Lay wet burlap", "earliest_min": 420,
        "due_min": 480, "latest_min": 1500, "duration_min": 60, "people": 4,
        "effect": "wet", "covers": True,
    }  # fmt: skip
    return task("lay", "P1-top", **(base | fields))


def look(name: str = "look", surface_id: str = "P1-top", **fields: object) -> Task:
    """One person for ten minutes, due at minute 650."""
    base: dict[str, object] = {
        "kind": "inspect", "title": "Inspect under burlap", "due_min": 650,
        "latest_min": 2000, "missed_cost": 10,
    }  # fmt: skip
    return task(name, surface_id, **(base | fields))


def rewet(**fields: object) -> Task:
    """All four for twenty minutes, 300 L."""
    base: dict[str, object] = {
        "kind": "rewet", "title": "Re-wet burlap", "duration_min": 20, "people": 4,
        "effect": "wet", "due_min": 650, "latest_min": 2000,
        "water": {"litres_l": 300, "until_min": 20},
    }  # fmt: skip
    return task("rewet", "P1-top", **(base | fields))


def slab(*tasks: Task, **fields: object) -> SurfaceWork:
    """The slab with its laying, its look and whatever else."""
    base: dict[str, object] = {
        "fresh": (Stretch(from_min=420, until_min=LENGTH),), "curve": curve(0.1),
        "tasks": tasks or (lay(), look()), "rewet": None, "ends_min": 900,
    }  # fmt: skip
    return SurfaceWork.model_validate(dict(work()) | base | fields)


def other_slab(*tasks: Task, **fields: object) -> SurfaceWork:
    """Another one, 120 m away, that was covered before and cannot run dry."""
    base: dict[str, object] = {
        "surface_id": OTHER, "label": "P2 top", "zone_id": "B", "fresh": (),
        "curve": None, "tasks": tasks, "covered_from_min": -60,
    }  # fmt: skip
    return slab(*tasks, **(base | fields))


LAID, LOOKED = visit("lay", 420, 60), visit("look", 600, 10)


def week(
    *visits: Visit,
    works: Sequence[SurfaceWork] = (),
    where: Site | None = None,
    **claims: object,
) -> Week:
    """The week with such visits; by default those that a foreman would sign."""
    given = site_input()
    given = given.model_copy(
        update={"site": where or given.site, "horizon": HORIZON},
    )
    of, done = works or (slab(),), visits or (LAID, LOOKED)
    tops: tuple[Surface, ...] = (top(), second())[: len(of)]
    report = audited(done, of, tops, where=where)
    plan = roster(done, of).model_copy(update=claims)
    return Week(given, plan, report)


def verdicts(of: Week) -> dict[str, Verdict]:
    """Each rule's verdict by its number."""
    return {verdict.rule: verdict for verdict in judged(of)}


def broken(of: Week) -> set[str]:
    """Rules that a week breaks."""
    return {rule for rule, verdict in verdicts(of).items() if verdict.over}
