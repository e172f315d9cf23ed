"""Curing compound, clear or white: sprayed, checked, watched, then hands off."""

from models.records import Link, Material, Task
from scheduler.methods.case.protocol import Case, Chain, end_min, window
from scheduler.methods.tasks.cautions import cautions
from scheduler.methods.tasks.coats import (
    coats_wanted,
    from_min,
    spray_coats,
    whole_l,
    within_min,
)
from scheduler.methods.tasks.covering import LATEST_AFTER_DUE_MIN
from scheduler.methods.tasks.hold_point import hold_point
from scheduler.methods.tasks.inspections import Look, look_min, looks_per_day


class Compound:
    """A film sprayed on once; no water, no rewets, nothing to take off."""

    def chain(self, case: Case) -> Chain:
        """Hold point, mixing, one or two coats, coverage, rain watch, a look a day."""
        if case.covered_from_min is not None:
            looks = looks_per_day(case, case.covered_from_min, _LOOK)
            return Chain(tasks=looks, covered_min=case.covered_from_min)
        mixed = _mix(case)
        coats = spray_coats(case, mixed)
        first, last = coats[0], coats[-1]
        kit = "compound, sprayer, measuring can"
        return Chain(
            tasks=(
                *hold_point(case, kit, "nozzle, drum, goggles", ()),
                mixed,
                *coats,
                _coverage(case, last),
                *_rain_watch(case, last),
                *looks_per_day(case, end_min(last), _LOOK),
            ),
            covered_min=end_min(last),
            own_time_min=last.earliest_min - first.earliest_min,
            laid=last,
        )


def _mix(case: Case) -> Task:
    needs_min = round(case.figures["mix"])
    when = window(
        from_min(case) - round(case.figures["mix_ahead"]),
        from_min(case),
        from_min(case) + within_min(case) + LATEST_AFTER_DUE_MIN,
        needs_min,
    )
    litres_l = whole_l(case)
    return Task(
        id=case.task_id("mix"),
        surface_id=case.surface.id,
        kind="mix_compound",
        title="Mix compound, set up sprayer",
        earliest_min=when.earliest_min,
        due_min=when.due_min,
        latest_min=when.latest_min,
        duration_min=needs_min,
        people=1,
        skills=("sprayer",),
        missed_cost=case.costs.missed_work,
        late_cost_per_min=0,  # the coats after it carry the price
        materials=(Material(name="compound", amount=case.water(litres_l)),),
        tools=("tank agitator", "measuring can", "spare nozzle"),
        steps=(
            "Stir to the bottom of the drum; keep it moving.",
            "Note product, batch and the level before spraying.",
            "Try the pattern on a board; mark out the area a drum must cover.",
        ),
        cautions=cautions("compound", "enclosed"),
        log_fields=("time", "product", "batch", "level before", "initials"),
    )


def _coverage(case: Case, last: Task) -> Task:
    needs_min = round(case.figures["coverage"])
    gap_min = round(case.figures["coverage_gap"])
    when = window(
        last.earliest_min + last.duration_min,
        last.due_min + gap_min + needs_min,
        last.latest_min + LATEST_AFTER_DUE_MIN,
        needs_min,
    )
    area = case.area(case.surface.area_m2)
    wanted = case.water(whole_l(case))
    coats = "Both coats together" if coats_wanted(case) == 2 else "In all"
    return Task(
        id=case.task_id("coverage"),
        surface_id=case.surface.id,
        kind="check_coverage",
        title="Check compound coverage",
        earliest_min=when.earliest_min,
        due_min=when.due_min,
        latest_min=when.latest_min,
        duration_min=needs_min,
        people=1,
        after=(Link(task_id=last.id, max_gap_min=gap_min),),
        missed_cost=case.costs.missed_work,
        late_cost_per_min=case.costs.late_cost_per_min,
        tools=("measuring can", "log"),
        steps=(
            "Read the drum: litres used = level before less level now.",
            f"{coats}: at least {wanted} on {area}.",
            "Look along the surface from low down: even, no bare streaks.",
            "Short or streaky: spray the whole surface again, tell the lead.",
        ),
        cautions=cautions("slips", "load"),
        log_fields=("litres used", "area", "even or not", "initials"),
    )


def _rain_watch(case: Case, last: Task) -> tuple[Task, ...]:
    """Look while rain could still wash the film off; not where none can fall."""
    if case.surface.exposure == "indoors":
        return ()
    needs_min = look_min(case)
    hours = case.figures["rain_watch"]
    watch_min = round(60 * hours)
    whole = case.water(whole_l(case))
    when = window(
        last.earliest_min + last.duration_min,
        last.due_min + watch_min,
        last.latest_min + LATEST_AFTER_DUE_MIN,
        needs_min,
    )
    return (
        Task(
            id=case.task_id("rain-watch"),
            surface_id=case.surface.id,
            kind="inspect",
            title="Rain watch on fresh compound",
            earliest_min=when.earliest_min,
            due_min=when.due_min,
            latest_min=when.latest_min,
            duration_min=needs_min,
            people=1,
            after=(Link(task_id=last.id, max_gap_min=max(0, watch_min - needs_min)),),
            missed_cost=case.costs.missed_inspection,
            late_cost_per_min=case.costs.late_cost_per_min,
            tools=("log", "compound and sprayer by hand"),
            steps=(
                "Look at the sky and the film; barrier closed?",
                f"Rained on within {hours:g} h: spray it again, {whole}.",
                "Write the time the film was dry to the touch.",
            ),
            cautions=cautions("slips", "load"),
            log_fields=("time", "rain", "film", "initials"),
        ),
    )


_LOOK_STEPS = (
    "Look along the film from low down: scuffs, scratches, bare spots.",
    "Spray again what is damaged, and a hand's breadth around it.",
    "Barrier closed, nobody across? Write what you find.",
)
_LOOK = Look(
    _LOOK_STEPS, ("time", "film whole or where not", "sprayed again", "initials")
)
