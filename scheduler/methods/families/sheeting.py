"""Sheets: plastic or paper on a wetted surface, or plastic over wet burlap."""

from scheduler.methods.case.protocol import Case, Chain, lies_by
from scheduler.methods.tasks.covering import covered_from_min, last_of
from scheduler.methods.tasks.hold_point import Kit, hold_point
from scheduler.methods.tasks.removal import removal
from scheduler.methods.tasks.sheet_laying import (
    care_of_sheet,
    lay_sheet,
    sheet_things,
)


class Sheeting:
    """A sheet that keeps the water in; wetted again under a lifted edge."""

    def chain(self, case: Case) -> Chain:
        """Ask for the hold point, laying on a wetted face, care, lifting in two."""
        laid = lay_sheet(case)
        covered_min, lies = covered_from_min(case, laid), lies_by(case, laid)
        looked_at, rewet = care_of_sheet(case, laid, covered_min)
        kit = Kit(sheet_things(case), "tape, ballast, a roll")
        return Chain(
            tasks=(
                *hold_point(case, kit, laid),
                *laid,
                *looked_at,
                *removal(case, loosen_first=True, after=lies),
            ),
            covered_min=covered_min,
            rewet=rewet,
            laid=last_of(laid),
        )
