"""Wet covers: burlap in one or two layers, cotton mats, wet sand."""

from scheduler.methods.case.protocol import Case, Chain, lies_by
from scheduler.methods.tasks.covering import covered_from_min, last_of
from scheduler.methods.tasks.hold_point import Kit, hold_point, soaked_name
from scheduler.methods.tasks.inspections import inspections_per_shift
from scheduler.methods.tasks.removal import removal
from scheduler.methods.tasks.rewetting import rewet_pattern
from scheduler.methods.tasks.wet_laying import INSPECTION, REWET, lay_wet


class WetCovers:
    """Fabric or sand that holds water and is filled again by visits."""

    def chain(self, case: Case) -> Chain:
        """Ask for the hold point, laying, first soak, care and lifting."""
        laid, soaked = lay_wet(case)
        covered_min, lies = covered_from_min(case, laid), lies_by(case, laid)
        name = case.cover_name
        kit = Kit(
            things=soaked_name(case, name),
            spares="rose nozzle, hose, ballast",
        )
        return Chain(
            tasks=(
                *hold_point(case, kit, soaked),
                *laid,
                *soaked,
                *inspections_per_shift(case, covered_min, INSPECTION, lies),
                *removal(case, loosen_first=False, after=lies),
            ),
            covered_min=covered_min,
            rewet=rewet_pattern(case, covered_min, laid, f"Re-wet {name}", REWET),
            laid=last_of(laid),
        )
