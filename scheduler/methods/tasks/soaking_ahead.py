"""Covers put into water before they are laid: a visit of its own.

Whether it is needed is the roster's decision: covers that come wet from another surface
need none.
"""

from collections.abc import Sequence

from models.records import Material, Task
from scheduler.methods.case.protocol import Case, Window
from scheduler.methods.tasks.builder import Brief, build_task, water_brought
from scheduler.methods.tasks.labour import Workload, labour

#: So long before it is wanted it may be put in: over a weekend without anybody; longer
#: would keep covers from others (assumption). [min]
_SOONEST_MIN = 3 * 24 * 60


def soak_ahead(case: Case, tasks: Sequence[Task]) -> tuple[Task, ...]:
    """Offer to soak the cover that some tasks lay; none of what nobody counts.

    Of covers that the site lists no stock of nobody knows which come off wet.
    """
    lead_min = case.soak_lead_min
    lays = next((task for task in tasks if task.facts.lays), None)
    if not lead_min or lays is None or case.surface.cover.kind not in case.stocks:
        return ()
    job = Workload(
        rates_m2_h=(case.common["soak_ahead"],),
        people=case.common.people("soak_ahead_people"),
        target_min=case.common["visit_target"],
        dose_l_m2=case.surface.cover.held_l_m2,
    )
    wanted_min = lays.earliest_min - lead_min
    there = case.gangs.on_shift(job.skill, wanted_min - 24 * 60, wanted_min + 1)
    area_m2 = case.surface.area_m2
    work = labour(case, job, area_m2, 1.0, there)
    name = "burlap" if case.surface.cover.form == "sheet" else case.cover_name
    brief = Brief(
        title=f"Put {case.area(area_m2)} {name} into water",
        steps=(
            f"Roll by roll into the tank, all under water for {lead_min / 60:g} h.",
            "Weight it down; turn the rolls once, so that no dry core is left.",
            f"Tag it for {case.surface.label}: nobody else takes it.",
        ),
        hazards=("handling", "slips"),
        tools=("soak tank", "weights", "hose", "tags"),
        log_fields=("time", "area", "litres", "initials"),
    )
    latest_min = lays.latest_min - lays.duration_min - lead_min
    return (
        build_task(
            case,
            "soak_ahead",
            "soak-ahead",
            brief,
            Window(wanted_min - _SOONEST_MIN, wanted_min, latest_min),
            work,
            materials=(Material(name=name, area_m2=area_m2), *water_brought(work)),
        ),
    )
