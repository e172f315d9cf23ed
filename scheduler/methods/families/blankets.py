"""Insulated blankets over a sheet: the concrete's own heat against the cold."""

from models.records import Task
from scheduler.methods.case.protocol import Case, Chain, lies_by
from scheduler.methods.tasks.covering import (
    Laying,
    covered_from_min,
    last_of,
    lay_cover,
)
from scheduler.methods.tasks.hold_point import Kit, hold_point
from scheduler.methods.tasks.inspections import Inspection, inspections_per_shift
from scheduler.methods.tasks.labour import Workload
from scheduler.methods.tasks.removal import removal


class Blankets:
    """A damp face under sheet and blankets, which come off layer by layer."""

    def chain(self, case: Case) -> Chain:
        """Ask for the hold point, laying, readings every shift, lifting in two."""
        laid = _lay(case)
        covered_min = covered_from_min(case, laid)
        kit = Kit(
            things="blankets, sheet, ballast",
            spares="blankets for corners, thermometer, ballast",
        )
        return Chain(
            tasks=(
                *hold_point(case, kit, laid),
                *laid,
                *inspections_per_shift(
                    case, covered_min, _readings(case), lies_by(case, laid)
                ),
                *removal(
                    case,
                    loosen_first=True,
                    limits=_limits(case),
                    after=lies_by(case, laid),
                ),
            ),
            covered_min=covered_min,
            laid=last_of(laid),
        )


def _lay(case: Case) -> tuple[Task, ...]:
    figures = case.figures
    job = Workload(
        rates_m2_h=(figures["lay"],),
        people=figures.people("lay_people"),
        target_min=case.common["job_target"],
        dose_l_m2=figures["lay_dose"],
    )
    laying = Laying(
        title="Lay sheet and blankets",
        ready=_ready(case),
        lay=(
            "Damp face, no free water; sheet first, blankets over it.",
            "Lap 150 to 300 mm, double at edges and corners, weight against wind.",
        ),
        finish="Thermometers at face, corner and in the air; read them now.",
        tools=("thermometers", "ballast", "knife"),
        hazards=("edges", "weather"),
    )
    return lay_cover(case, job, laying)


def _ready(case: Case) -> str:
    """Say what the surface must bear; nothing where frost comes first."""
    if case.surface.at_once and not case.stage:
        return (
            "At once: frost comes before it bears people. From planks; marks may stay."
        )
    return "Test the surface: it bears people without a mark."


def _limits(case: Case) -> tuple[str, ...]:
    """How cool it must be before blankets come off: by the profile, else the table."""
    section = case.profile.section(case.surface.thickness_mm)
    drop_k = section.cooling_max_k if section else None
    above, drop = (
        case.kelvin(k)
        for k in (case.figures["above_air"], drop_k or case.figures["drop"])
    )
    hour_k = case.profile.cooling_hour_max_k
    hourly = f" and {case.kelvin_tenths(hour_k)} in any hour" if hour_k else ""
    return (
        f"All off only once the face is within {above} of the air.",
        f"It may cool by {drop} in 24 h{hourly}: faster, lay them back.",
    )


def _readings(case: Case) -> Inspection:
    """Read temperatures, against the least that the profile asks for."""
    section = case.profile.section(case.surface.thickness_mm)
    least_c = section.minimum_c if section else None
    keep = f", at least {case.degrees(least_c)}" if least_c is not None else ""
    return Inspection(
        kind="read_temperature",
        title="Read temperatures, inspect blankets",
        tools=("thermometer",),
        steps=(
            f"Read face{keep}, corner, air, and the night's lowest.",
            "Look for tears, wet blankets, open laps; fix them.",
            "Cooling faster than the sheet allows: another layer, call the lead.",
        ),
        log_fields=(
            "time", "surface temperature", "corner", "air temperature", "lowest",
            "initials",
        ),
    )  # fmt: skip
