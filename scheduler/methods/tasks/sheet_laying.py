"""Laying a sheet or paper on a wetted surface, and looking after what is under it."""

from dataclasses import replace

from models.records import Task
from scheduler.methods.case.protocol import Case, lies_by
from scheduler.methods.tasks.covering import Laying, lay_cover
from scheduler.methods.tasks.hold_point import soaked_name
from scheduler.methods.tasks.inspections import (
    Inspection,
    inspections_per_shift,
)
from scheduler.methods.tasks.labour import Workload
from scheduler.methods.tasks.rewetting import rewet_pattern


def sheet_things(case: Case) -> str:
    """Say what has to be ready."""
    if case.surface.cover.soaked:
        return f"{soaked_name(case, 'burlap')}, sheet"
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


def care_of_sheet(
    case: Case, laid: tuple[Task, ...], covered_min: int
) -> tuple[tuple[Task, ...], Task | None]:
    """Ask for inspections and offer re-wettings; a small face has both in one.

    It is damp and taped all round: whoever inspects it brings a can of water, and
    nobody comes for a few litres alone.
    """
    cover, lies = case.surface.cover, lies_by(case, laid)
    holds = cover.rewettable and cover.held_l_m2 > 0
    if holds and case.surface.area_m2 < _SMALL_M2:
        dose_l_m2 = max(case.figures["rewet_dose"], cover.held_l_m2)
        inspection = replace(_DAMP_AND_TAPED, dose_l_m2=dose_l_m2)
        return inspections_per_shift(case, covered_min, inspection, lies), None
    title = f"Re-wet under {cover.outer}"
    return (
        inspections_per_shift(case, covered_min, INSPECTION, lies),
        rewet_pattern(case, covered_min, laid, title, REWET),
    )


#: Under a sheet on less than this nobody re-wets by the hour: column heads, kerbs,
#: wall tops (common practice, no source). [m²]
_SMALL_M2 = 10.0
_DAMP_AND_TAPED = Inspection(
    title="Inspect small sheet, damp and taped",
    steps=(
        "Tape whole all round? Feel under one edge.",
        "Pour the can in from the high side; close and tape it at once.",
        "Tears: new tape over them, or a new sheet.",
    ),
    tools=("can", "tape"),
    log_fields=("time", "damp or dry", "tape", "initials"),
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
