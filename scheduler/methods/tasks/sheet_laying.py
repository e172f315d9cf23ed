"""Laying a sheet or paper on a wetted surface, and looking after what is under it."""

from models.records import Task
from scheduler.methods.case.protocol import Case
from scheduler.methods.tasks.covering import Laying, lay_cover
from scheduler.methods.tasks.hold_point import in_water
from scheduler.methods.tasks.inspections import Inspection
from scheduler.methods.tasks.labour import Workload


def sheet_things(case: Case) -> str:
    """Say what has to be ready."""
    if case.surface.cover.soaked:
        return f"{in_water(case, 'burlap')}, sheet"
    return case.cover_name


def lay_sheet(case: Case, within_min: int = 24 * 60) -> tuple[Task, ...]:
    """Wet the surface and lay the sheet or paper, over burlap where it is asked for.

    ``within_min`` is how long after the surface is ready it must be on.
    """
    figures = case.figures
    over_burlap, outer = case.surface.cover.soaked, case.surface.cover.outer
    lay = figures["lay_vertical" if case.surface.vertical else "lay"]
    job = Workload(
        # Misting is part of the rate of both layers.
        rates_m2_h=(lay,) if over_burlap else (figures["mist"], lay),
        people=figures.people("lay_people"),
        target_min=min(case.common["job_target"], within_min),
        dose_l_m2=figures["lay_dose"],
    )
    start = (
        "Forms off: wet the face at once."
        if case.surface.face != "top"
        else "Test the surface: a light footstep leaves no mark."
    )
    under = (
        "Lay two layers of wet burlap, laps 150 mm; soak until it drips."
        if over_burlap
        else "Wet the whole surface with a fine spray."
    )
    laying = Laying(
        title=f"Lay {case.cover_name}",
        ready=start,
        lay=(
            under,
            f"{outer.capitalize()} at once: laps 300 mm, 450 mm past the edge, taped.",
        ),
        finish="Ballast on laps and edges; no wind may get under.",
        besides="Hold with two people; in strong wind do not start.",
        tools=("knife", "tape", "ballast", "mist nozzle"),
        hazards=("slips", "edges"),
    )
    return lay_cover(case, job, laying, within_min)


REWET = (
    "Lift one edge at a time, two people.",
    "Check: condensation under the sheet, or dry?",
    "Wet from the high side with a fine spray; not under pressure.",
    "Close, tape and weight it before the next edge.",
)
INSPECTION = Inspection(
    steps=(
        "Walk all laps and edges; look for tears and lifted ballast.",
        "Condensation everywhere? Lift a corner where there is none.",
        "Tape tears and small holes at once: they undo the whole sheet.",
        "Dry anywhere: wet it now and call the lead.",
    ),
    log_fields=("time", "damp under", "laps", "tears", "edges", "initials"),
    met_by_wetting=True,
)
