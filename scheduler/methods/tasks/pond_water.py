"""The water of a pond: its bund, filling, topping up, letting it go."""

from collections.abc import Iterator
from dataclasses import replace
from math import ceil, sqrt
from typing import Literal

from models.quantities import show
from models.records import Material, Task
from scheduler.methods.case.protocol import Case, Window, end_min, links
from scheduler.methods.resources.stretches import clip
from scheduler.methods.tasks.builder import Brief, build_task, water_brought
from scheduler.methods.tasks.covering import last_of
from scheduler.methods.tasks.handover import change_cover
from scheduler.methods.tasks.inspections import Inspection
from scheduler.methods.tasks.labour import Labour, Workload, labour, slowdown
from scheduler.methods.tasks.removal import CONFIRM, first_morning, removal


def build_bund(case: Case) -> tuple[Task, ...]:
    """Build the bund on the burlap, within the half day before the pond is due."""
    if case.stage is None or not case.needs_cover:
        return ()
    figures = case.figures
    length_m = figures["bund_length"] * sqrt(case.surface.area_m2)
    people = round(figures["bund_people"])
    due_min = case.ready_min
    start_min = max(due_min - _BUND_AHEAD_MIN, end_min(case.stage.after))
    work_min = slowdown(case, start_min) * 60 * length_m / figures["bund"] / people
    needs_min = ceil(case.common["set_up"] + work_min)
    brief = Brief(
        title="Build the bund",
        steps=(
            "Sand or clay that does not stain, 100 to 150 mm high, trodden firm.",
            "The burlap stays on and wet; plug drains, joints and box-outs.",
            "Find the low corner: where would it run over, and onto what?",
        ),
        hazards=("handling", "run_off"),
        tools=("shovels", "barrow", "level"),
        log_fields=("time", "height", "plugs", "initials"),
    )
    return (
        build_task(
            case,
            "build_bund",
            "bund",
            brief,
            Window(start_min, due_min, due_min + _LATE_MIN),
            Labour(case.surface.area_m2, people, needs_min),
            after=links(case.stage.after),
            materials=(Material(name="sand or clay", length_m=round(length_m, 1)),),
        ),
    )


def fill(case: Case, bund: tuple[Task, ...]) -> tuple[Task, ...]:
    """Fill the pond over its burlap, around the time it is planned for."""
    if case.stage is None:
        return ()
    depth_mm = case.surface.cover.held_l_m2
    job = Workload(
        rates_m2_h=(case.figures["fill"],),
        people=case.figures.people("fill_people"),
        target_min=case.common["visit_target"],
        dose_l_m2=depth_mm,
    )
    over = replace(case.stage, after=last_of(bund), lift_rates_m2_h=(), shut_off="")
    depth = show("depth", depth_mm, case.units)
    return change_cover(
        case,
        over,
        job,
        steps=(
            "Press a thumb on the concrete: no mark? Else wait and call the lead.",
            f"Fill gently over the burlap to {depth}: no jet on the face.",
            "Water not much colder than the concrete; measure both.",
            "Walk the bund for leaks; mark the level on a peg.",
        ),
        tools=("hose", "thermometer", "level peg"),
        hazards=("load", "pond"),
        title="Fill the pond",
        kind="fill_pond",
    )


def top_ups(case: Case, filled_min: int, filled: tuple[Task, ...]) -> Iterator[Task]:
    """Ask for a filling a day, in mild hours, of what the day before took."""
    figures = case.figures
    dose_l_m2 = min(figures["top_up_dose"], case.surface.cover.held_l_m2)
    job = Workload(
        rates_m2_h=(figures["top_up"],),
        people=figures.people("top_up_people"),
        target_min=case.common["visit_target"],
        dose_l_m2=dose_l_m2,
    )
    strength = case.gangs.smallest("labourer")
    work = labour(case, job, case.surface.area_m2, slowdown(case, None), strength)
    ends_min = min(case.ends_min - _LAST_TOP_UP_MIN, case.horizon_min)
    for day in case.calendar.daily():
        part = clip(day.stretch, filled_min + _FIRST_TOP_UP_MIN, ends_min)
        mild = case.mild_parts(part.from_min, part.until_min) if part else ()
        longest = max(mild, key=lambda m: m.until_min - m.from_min, default=None)
        if longest is None:
            continue
        if longest.until_min - longest.from_min < work.duration_min:
            continue
        yield build_task(
            case,
            "top_up",
            f"top-up/{day.name}",
            _TOP_UP,
            Window(longest.from_min, longest.until_min, longest.until_min),
            work,
            effect="wet",
            after=links(last_of(filled)),
            materials=water_brought(work),
        )


def emptied(case: Case, filled: Task | None) -> tuple[Task, ...]:
    """Drain, lift the burlap, shovel the bund off and wash, one after the other."""
    morning = first_morning(case)
    if morning is None:
        return ()
    drained = _clear(case, morning, "drain", filled)
    lifted = removal(case, loosen_first=False, after=drained)
    washed = _clear(case, morning, "wash", last_of(lifted))
    return (drained, *lifted, washed)


def _clear(
    case: Case, morning: Window, what: Literal["drain", "wash"], before: Task | None
) -> Task:
    """Drain the pond that was filled, or wash the slab after its covers are off."""
    job = Workload(
        rates_m2_h=(case.figures[what],),
        people=case.figures.people("drain_people"),
        target_min=case.common["job_target"],
    )
    strength = case.gangs.on_shift("labourer", morning.earliest_min, morning.due_min)
    work = labour(case, job, case.surface.area_m2, slowdown(case, None), strength)
    start_min = max(morning.earliest_min, end_min(before))
    latest_min = max(morning.latest_min, before.latest_min if before else 0)
    return build_task(
        case,
        what,
        what,
        _CLEAR[what],
        Window(start_min, morning.due_min, latest_min),
        work,
        after=links(before),
    )


#: Before the pond is due, so that the bund can settle. [min]
_BUND_AHEAD_MIN = 12 * 60
_LATE_MIN = 2 * 24 * 60
#: Topped up a night after filling at the soonest. [min]
_FIRST_TOP_UP_MIN = 12 * 60
#: Nobody fills what is drained so soon after. [min]
_LAST_TOP_UP_MIN = 6 * 60
_TOP_UP = Brief(
    title="Top up the pond",
    steps=(
        "Read the peg: how far has it fallen since the last reading?",
        "Fill to the mark, gently; water not much colder than the concrete.",
        "Fallen more than the weather takes: find the leak, close it.",
    ),
    hazards=("pond", "slips"),
    tools=("hose", "dip stick"),
    log_fields=("time", "depth", "litres", "water temperature", "initials"),
)
_CLEAR: dict[Literal["drain", "wash"], Brief] = {
    "drain": Brief(
        title="Drain the pond",
        steps=(
            CONFIRM,
            "Pump to the sump; pH strip: nothing caustic into a gully or open water.",
            "From the low corner; do not wash the face out.",
        ),
        hazards=("run_off", "electrics"),
        tools=("pump", "sump", "pH strips", "shovels"),
        log_fields=("time", "pH", "where the water went", "initials"),
    ),
    "wash": Brief(
        title="Bund off, wash the slab",
        steps=(
            "Shovel the bund off, barrow it away: it does not stay on the slab.",
            "Rinse toward the sump at low pressure; plugs out of drains last.",
            "Record stains and cracks; photograph them.",
        ),
        hazards=("run_off", "electrics"),
        tools=("pump", "sump", "pH strips", "shovels"),
        log_fields=("time", "pH", "where the water went", "initials"),
    ),
}
LEVEL = Inspection(
    kind="check_level",
    title="Inspect level and bund",
    tools=("dip stick",),
    steps=(
        "Read the peg at three places; the high spots are under water?",
        "Walk the bund outside: wet ground, drips below, wind over the rim?",
        "Leak: close it, top up, call the lead; below a slab, call at once.",
    ),
    log_fields=("time", "depth", "leaks", "water temperature", "initials"),
)
