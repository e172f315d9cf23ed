"""Water on a timer: what it draws, setting it going, shutting it off."""

from dataclasses import replace
from math import ceil

from models.records import AutomaticFlow, Task
from scheduler.methods.case.protocol import Case, Window, end_min, links
from scheduler.methods.tasks.builder import Brief, build_task
from scheduler.methods.tasks.covering import LATEST_AFTER_DUE_MIN
from scheduler.methods.tasks.inspections import Inspection
from scheduler.methods.tasks.labour import Workload, labour, slowdown
from scheduler.methods.tasks.removal import CONFIRM, first_morning


def commission(
    case: Case, laid: Task | None, job: Workload, title: str, steps: tuple[str, ...]
) -> Task:
    """Set out the system and run it in; from its end on the timer keeps it wet.

    Where the covers lie there already, so does the system: it is only run in again.
    """
    start_min = end_min(laid)
    strength = case.gangs.on_shift("labourer", start_min, start_min + 120)
    work = labour(case, job, case.surface.area_m2, slowdown(case, start_min), strength)
    needs_min = round(case.figures["commission"])
    if laid:
        needs_min += work.duration_min
    due_min = (laid.due_min if laid else 0) + needs_min + 60
    brief = Brief(
        title=title,
        steps=steps,
        hazards=("run_off", "electrics"),
        tools=("timer and fresh battery", "filter", "pressure regulator", "joiners"),
        log_fields=("time", "timer setting", "meter", "dry spots", "initials"),
    )
    return build_task(
        case,
        "commission",
        "commission",
        brief,
        Window(start_min, due_min, due_min + LATEST_AFTER_DUE_MIN),
        replace(work, duration_min=needs_min),
        effect="seal",
        begins_min=laid.due_min if laid else 0,
        after=links(laid),
    )


def draws(case: Case, from_min: int) -> tuple[AutomaticFlow, ...]:
    """Spread the day's dose evenly; lines that may freeze are shut and drained.

    ``from_min`` is when the system runs. [min of the horizon]
    """
    flow_l_min = case.figures["dose_a_day"] * case.surface.area_m2 / (24 * 60)
    until_min = min(case.ends_min, case.horizon_min)
    return tuple(
        AutomaticFlow(
            water_point_id=case.water_point_id,
            from_min=part.from_min,
            until_min=part.until_min,
            flow_l_min=round(flow_l_min, 3),
        )
        for part in case.mild_parts(max(0, from_min), until_min)
    )


def timer_words(case: Case, running_l_m2_h: float) -> str:
    """Say how long the timer lets it run each hour to give the day's dose."""
    share = case.figures["dose_a_day"] / 24 / running_l_m2_h
    return f"Timer: {min(60, ceil(60 * share))} min in every hour, day and night."


def shut_off(case: Case, lies: Task | None) -> tuple[Task, ...]:
    """Shut the water off and take the lines up, before the covers are lifted.

    ``lies`` is what put the covers there.
    """
    morning = first_morning(case)
    if morning is None:
        return ()
    job = Workload(
        rates_m2_h=(case.figures["drain"],),
        people=case.figures.people("drain_people"),
        target_min=case.common["visit_target"],
    )
    strength = case.gangs.on_shift("labourer", morning.earliest_min, morning.due_min)
    work = labour(case, job, case.surface.area_m2, slowdown(case, None), strength)
    brief = Brief(
        title="Shut off, drain, coil",
        steps=(
            CONFIRM,
            "Shut the valve, read the meter, drain the lines to the sump.",
            "Coil hose and heads, tag them, back to store.",
        ),
        hazards=("run_off", "traffic"),
        tools=("valve key", "reel"),
        log_fields=("time", "meter", "initials"),
    )
    return (
        build_task(
            case, "shut_off", "shut-off", brief, morning, work, after=links(lies)
        ),
    )


#: An automatic system fails in silence, so somebody looks at it every shift.
INSPECTION = Inspection(
    steps=(
        "Run it by hand: water at the end of every line, at every head?",
        "Timer, battery, filter, meter: does the meter fit the setting?",
        "Splits, kinks, blocked heads, dry spots; water where none should be?",
        "Dry anywhere: wet it by hand now and call the lead.",
    ),
    log_fields=("time", "condition found", "meter", "battery", "initials"),
    title="Inspect timer, lines and cover",
    tools=("spare battery", "joiners"),
)
