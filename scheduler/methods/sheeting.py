"""Sheets: plastic on a wetted surface, or over wet burlap."""

from models.records import Task
from scheduler.methods.covering import covered_from_min, lay_cover
from scheduler.methods.hold_point import hold_point
from scheduler.methods.inspections import looks_per_shift
from scheduler.methods.protocol import Case, Chain
from scheduler.methods.removal import removal
from scheduler.methods.rewetting import rewet_pattern
from scheduler.methods.worktime import Job


class Sheeting:
    """A sheet that keeps the water in; wetted again under a lifted edge."""

    def chain(self, case: Case) -> Chain:
        """Hold point, wetting and laying in one, rewets, looks, loosening, lifting."""
        laid = _lay(case) if case.needs_cover else ()
        covered_min = covered_from_min(case, laid)
        over_burlap = case.surface.method == "sheet_over_burlap"
        kit = (
            f"burlap in water since {case.soak_lead_h:g} h, sheet, ballast"
            if over_burlap
            else "sheet, tape and ballast"
        )
        return Chain(
            tasks=(
                *hold_point(case, kit),
                *laid,
                *looks_per_shift(case, covered_min, _LOOK, _LOOK_LOG),
                *removal(case, loosen_first=True),
            ),
            covered_min=covered_min,
            rewet=rewet_pattern(case, covered_min, laid, "Re-wet under sheet", _REWET),
        )


def _lay(case: Case) -> tuple[Task, ...]:
    figures = case.figures
    over_burlap = case.surface.method == "sheet_over_burlap"
    lay = figures["lay_vertical" if case.surface.vertical else "lay"]
    job = Job(
        # Misting is part of the rate of both layers.
        rates_m2_h=(lay,) if over_burlap else (figures["mist"], lay),
        people=figures.people("lay_people"),
        target_min=case.common["job_target"],
        dose_l_m2=figures["lay_dose"],
    )
    start = (
        "Forms off: wet the face at once."
        if case.surface.face == "formed"
        else "Try the surface: no mark from a light foot."
    )
    under = (
        "Lay two layers of wet burlap, laps 150 mm; soak until it drips."
        if over_burlap
        else "Wet the whole surface with a fine spray."
    )
    return lay_cover(
        case,
        job,
        f"Lay {case.cover_name}",
        steps=(
            start,
            under,
            "Sheet at once: laps 300 mm, 450 mm past the edge, taped.",
            "Ballast on laps and edges; no wind may get under.",
            "Hold with two people; in strong wind do not start.",
        ),
        tools=("knife", "tape", "ballast", "mist nozzle"),
        hazards=("slips", "edges"),
    )


_REWET = (
    "Lift one edge at a time, two people.",
    "Look: drops under the sheet, or dry?",
    "Wet from the high side with a fine spray; not under pressure.",
    "Close, tape and weight it before the next edge.",
)
_LOOK = (
    "Walk all laps and edges; look for tears and lifted ballast.",
    "Drops under the sheet everywhere? Lift a corner where not.",
    "Tape tears and small holes at once: they undo the whole sheet.",
    "Dry anywhere: wet it now and ring the lead.",
)
_LOOK_LOG = ("time", "damp under", "laps", "tears", "edges", "initials")
