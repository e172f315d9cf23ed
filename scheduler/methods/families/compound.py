"""Curing compound, clear or white: sprayed, checked and then inspected."""

from dataclasses import replace

from models.records import Link, Material, Task
from scheduler.methods.case.protocol import Case, Chain, Window, end_min
from scheduler.methods.tasks.builder import Brief, build_task
from scheduler.methods.tasks.coats import (
    coats_wanted,
    from_min,
    spray_coats,
    whole_l,
    within_min,
)
from scheduler.methods.tasks.covering import LATEST_AFTER_DUE_MIN
from scheduler.methods.tasks.hold_point import Kit, hold_point
from scheduler.methods.tasks.inspections import (
    Inspection,
    inspection_min,
    inspections_per_day,
)
from scheduler.methods.tasks.labour import one_person


class Compound:
    """A film sprayed on once; no water, no rewets, nothing to take off."""

    def chain(self, case: Case) -> Chain:
        """Ask for the hold point, mixing, coats, their check, daily inspections."""
        if case.covered_from_min is not None:
            inspected = inspections_per_day(
                case, case.covered_from_min, _INSPECTION, None
            )
            return Chain(tasks=inspected, covered_min=case.covered_from_min)
        mixed = _mix(case)
        coats = spray_coats(case, mixed)
        first, last = coats[0], coats[-1]
        kit = Kit("compound, sprayer, measuring can", "nozzle, drum, goggles")
        return Chain(
            tasks=(
                *hold_point(case, kit, ()),
                mixed,
                *coats,
                _coverage(case, last),
                *_rain_watch(case, last),
                *inspections_per_day(
                    case, end_min(last), _after_rain_watch(case), last
                ),
            ),
            covered_min=end_min(last),
            own_time_min=last.earliest_min - first.earliest_min,
            laid=last,
        )


def _mix(case: Case) -> Task:
    """Stir and set up, a while before the first coat may go on."""
    brief = Brief(
        title="Mix compound, set up sprayer",
        steps=(
            "Stir to the bottom of the drum; keep it moving.",
            "Note product, batch and the level before spraying.",
            "Try the pattern on a board; mark out the area a drum must cover.",
        ),
        hazards=("compound", "enclosed"),
        tools=("tank agitator", "measuring can", "spare nozzle"),
        log_fields=("time", "product", "batch", "level before", "initials"),
    )
    start_min = from_min(case)
    return build_task(
        case,
        "mix_compound",
        "mix",
        brief,
        Window(
            start_min - round(case.figures["mix_ahead"]),
            start_min,
            start_min + within_min(case) + LATEST_AFTER_DUE_MIN,
        ),
        one_person(case, case.figures["mix"]),
        skill="sprayer",
        materials=(Material(name="compound", volume_l=round(whole_l(case), 2)),),
    )


def _coverage(case: Case, last: Task) -> Task:
    """Check that enough was sprayed, while a short coat can still be made good."""
    work = one_person(case, case.figures["coverage"])
    gap_min = round(case.figures["coverage_gap"])
    area = case.area(case.surface.area_m2)
    wanted = case.water(whole_l(case))
    coats = "Both coats together" if coats_wanted(case) == 2 else "In all"
    brief = Brief(
        title="Check compound coverage",
        steps=(
            "Read the drum: litres used = level before less level now.",
            f"{coats}: at least {wanted} on {area}.",
            "Look along the surface from low down: even, no bare streaks.",
            "Short or streaky: spray the whole surface again, tell the lead.",
        ),
        hazards=("slips", "load"),
        tools=("measuring can", "log"),
        log_fields=("litres used", "area", "even or not", "initials"),
    )
    return build_task(
        case,
        "check_coverage",
        "coverage",
        brief,
        Window(
            end_min(last),
            last.due_min + gap_min + work.duration_min,
            last.latest_min + LATEST_AFTER_DUE_MIN,
        ),
        work,
        begins_min=last.due_min,
        after=(Link(task_id=last.id, max_gap_min=gap_min),),
    )


def _rain_watch(case: Case, last: Task) -> tuple[Task, ...]:
    """Inspect while rain could still wash the film off; not where none can fall."""
    if case.surface.exposure == "indoors":
        return ()
    work = one_person(case, inspection_min(case))
    hours = case.figures["rain_watch"]
    watch_min = round(60 * hours)
    gap_min = max(0, watch_min - work.duration_min)
    brief = Brief(
        title="Rain watch on fresh compound",
        steps=(
            "Check the sky and the film; barrier in place?",
            f"Rained on within {hours:g} h: spray it again, "
            f"{case.water(whole_l(case))}.",
            "Record when the film was dry to the touch.",
        ),
        hazards=("slips", "load"),
        tools=("log", "compound and sprayer by hand"),
        log_fields=("time", "rain", "film", "initials"),
    )
    return (
        build_task(
            case,
            "inspect",
            "rain-watch",
            brief,
            Window(
                end_min(last),
                last.due_min + watch_min,
                last.latest_min + LATEST_AFTER_DUE_MIN,
            ),
            work,
            begins_min=last.due_min,
            after=(Link(task_id=last.id, max_gap_min=gap_min),),
        ),
    )


def _after_rain_watch(case: Case) -> Inspection:
    """Inspect the film for the first time a while after the rain watch is over."""
    if case.surface.exposure == "indoors":
        return _INSPECTION
    waits_min = _INSPECTION.waits_min + round(60 * case.figures["rain_watch"])
    return replace(_INSPECTION, waits_min=waits_min)


_INSPECTION = Inspection(
    steps=(
        "Look along the film from low down: scuffs, scratches, bare spots.",
        "Spray again what is damaged, and a hand's breadth around it.",
        "Barrier in place, no footprints? Record what you find.",
    ),
    log_fields=("time", "film whole or where not", "sprayed again", "initials"),
)
