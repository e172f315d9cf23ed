"""Soaker hose on a timer, between burlap and sheet."""

from scheduler.methods.case.protocol import Case, Chain, end_min, lies_by
from scheduler.methods.tasks.covering import covered_from_min, last_of
from scheduler.methods.tasks.hold_point import Kit, hold_point
from scheduler.methods.tasks.inspections import inspections_per_shift
from scheduler.methods.tasks.labour import Workload
from scheduler.methods.tasks.removal import removal
from scheduler.methods.tasks.sheet_laying import lay_sheet, sheet_things
from scheduler.methods.tasks.timers import (
    INSPECTION,
    commission,
    draws,
    shut_off,
    timer_words,
)


class Soaker:
    """A sheet over burlap with hose between them, inspected every shift."""

    def chain(self, case: Case) -> Chain:
        """Ask for the hold point, covers, hose and timer, inspections, lifting."""
        laid = lay_sheet(case)
        covered_min = covered_from_min(case, laid)
        figures = case.figures
        spacing_m = figures["hose_spacing"]
        job = Workload(
            rates_m2_h=(figures["hose"] * spacing_m,),
            people=figures.people("hose_people"),
            target_min=case.common["job_target"],
        )
        steps = (
            f"Hose under the sheet every {spacing_m:g} m; header, filter, regulator.",
            "Run it: the end of every line drips; balance, close the sheet, tape it.",
            timer_words(case, figures["hose_flow"] / spacing_m),
        )
        run_in = commission(
            case, last_of(laid), job, "Lay soaker hose, set timer", steps
        )
        kit = Kit(
            things=f"{sheet_things(case)}, hose, timer",
            spares="timer battery, hose, joiners",
        )
        shut = shut_off(case, lies_by(case, laid))
        return Chain(
            tasks=(
                *hold_point(case, kit, laid),
                *laid,
                run_in,
                *inspections_per_shift(case, covered_min, INSPECTION, last_of(laid)),
                *shut,
                *removal(case, loosen_first=True, after=last_of(shut)),
            ),
            covered_min=covered_min,
            laid=last_of(laid),
            automatic=draws(case, end_min(run_in)),
        )
