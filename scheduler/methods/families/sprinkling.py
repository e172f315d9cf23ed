"""Sprinkler heads on a timer, over one layer of wet burlap."""

from scheduler.methods.case.protocol import Case, Chain, end_min, lies_by
from scheduler.methods.tasks.covering import covered_from_min, last_of
from scheduler.methods.tasks.hold_point import Kit, hold_point, soaked_name
from scheduler.methods.tasks.inspections import inspections_per_shift
from scheduler.methods.tasks.labour import Workload
from scheduler.methods.tasks.removal import removal
from scheduler.methods.tasks.timers import (
    INSPECTION,
    commission,
    draws,
    shut_off,
    timer_words,
)
from scheduler.methods.tasks.wet_laying import lay_wet


class Sprinkling:
    """Heads over burlap, so that no spot dries between two turns of a head."""

    def chain(self, case: Case) -> Chain:
        """Ask for the hold point, burlap, heads and timer, inspections, lifting."""
        laid, soaked = lay_wet(case)
        covered_min = covered_from_min(case, laid)
        figures = case.figures
        job = Workload(
            rates_m2_h=(figures["set_out"],),
            people=figures.people("set_out_people"),
            target_min=case.common["job_target"],
        )
        steps = (
            "Heads so that circles overlap; nobody's way, no jet on bare concrete.",
            "Tins on the slab, run a cycle: turn heads until no spot stays dry.",
            timer_words(case, 60 * figures["head_flow"] / figures["head_area"]),
            "See where the water runs: gullies closed, sump open.",
        )
        run_in = commission(
            case, last_of((*laid, *soaked)), job, "Set out sprinklers, set timer", steps
        )
        kit = Kit(
            things=f"{soaked_name(case, case.cover_name)}, heads, timer",
            spares="timer battery, head, hose",
        )
        shut = shut_off(case, lies_by(case, laid))
        return Chain(
            tasks=(
                *hold_point(case, kit, soaked),
                *laid,
                *soaked,
                run_in,
                *inspections_per_shift(case, covered_min, INSPECTION, last_of(laid)),
                *shut,
                *removal(case, loosen_first=False, after=last_of(shut)),
            ),
            covered_min=covered_min,
            laid=last_of(laid),
            automatic=draws(case, end_min(run_in)),
        )
