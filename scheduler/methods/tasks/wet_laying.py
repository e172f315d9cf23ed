"""Laying fabric or sand that holds water, its first soak, how it is inspected."""

from models.records import Link, Task
from scheduler.methods.case.protocol import Case, Window, end_min
from scheduler.methods.tasks.builder import Brief, build_task, water_brought
from scheduler.methods.tasks.covering import LATEST_AFTER_DUE_MIN, Laying, lay_cover
from scheduler.methods.tasks.inspections import Inspection
from scheduler.methods.tasks.labour import Workload, labour, slowdown


def lay_wet(case: Case) -> tuple[tuple[Task, ...], tuple[Task, ...]]:
    """Lay a wet cover, then soak it; at a change it is soaked as it is laid."""
    laid = _lay(case)
    return laid, _soak(case, laid[-1]) if laid and not case.stage else ()


def _lay(case: Case) -> tuple[Task, ...]:
    """Spread or hang the cover; words and tools follow from what it is made of."""
    figures = case.figures
    face = case.surface.vertical and "lay_vertical" in figures
    job = Workload(
        rates_m2_h=(figures["lay_vertical" if face else "lay"],),
        people=figures.people("lay_people"),
        target_min=case.common["job_target"],
        # Fabric comes out of the soak tank; at a change there is no first soak.
        dose_l_m2=figures["lay_dose"]
        if "lay_dose" in figures
        else figures["soak_dose"]
        if case.stage
        else 0,
    )
    name = case.cover_name
    cover = case.surface.cover
    start = (
        "Forms off: wet the face at once."
        if case.surface.face != "top"
        else "Test the surface: no mark from a light footstep or the fabric."
        if case.surface.cover_from == "takes_cover"
        else f"Test the surface: it bears people and wet {name} without a mark."
    )
    layers = "two layers, " if cover.layers == 2 else ""
    hang = "top down, tie round" if case.surface.vertical else "carry, do not drag"
    laying = Laying(
        title=f"Lay wet {name}",
        ready=start,
        lay=(
            cover.spread or f"Lay {layers}laps 150 mm; {hang}.",
            "Cover edges, corners and starter bars too.",
        ),
        finish="Weight or tie the edges against wind.",
        tools=("barrow", "shovel", "rake")
        if cover.form == "loose"
        else ("soak tank", "ballast or ties", "trolley"),
        hazards=("handling", "edges" if case.surface.vertical else "cement"),
    )
    return lay_cover(case, job, laying)


def _soak(case: Case, laid: Task) -> tuple[Task, ...]:
    """Soak it fully for the first time, soon after it is on."""
    figures = case.figures
    job = Workload(
        rates_m2_h=(figures["soak"],),
        people=figures.people("soak_people"),
        target_min=case.common["visit_target"],
        dose_l_m2=max(figures["soak_dose"], case.surface.cover.held_l_m2),
    )
    starts_min = end_min(laid)
    strength = case.gangs.on_shift("labourer", starts_min, starts_min + 60)
    factor = slowdown(case, starts_min)
    work = labour(case, job, case.surface.area_m2, factor, strength)
    gap_min = round(figures["soak_gap"])
    brief = Brief(
        title=f"First soak of {case.cover_name}",
        steps=(
            "Rose nozzle, low pressure: no jet on young concrete.",
            "From the high side until it drips at the low edge.",
            "Walk laps and edges; close what has opened.",
        ),
        hazards=("traffic", "slips"),
        tools=("50 m hose", "rose nozzle"),
        log_fields=("time", "litres", "laps and edges", "initials"),
    )
    return (
        build_task(
            case,
            "soak",
            "soak",
            brief,
            Window(
                starts_min,
                laid.due_min + gap_min + work.duration_min,
                laid.latest_min + LATEST_AFTER_DUE_MIN,
            ),
            work,
            effect="wet",
            begins_min=laid.due_min,
            after=(Link(task_id=laid.id, max_gap_min=gap_min),),
            materials=water_brought(work),
        ),
    )


REWET = (
    "Feel the fabric in five places: wet, damp, patchy or dry.",
    "Wet dry patches first, then from the high side until it drips.",
    "Water not much colder than the concrete: let a hot or cold hose run off.",
    "Close laps and edges; put ballast back.",
)
INSPECTION = Inspection(
    steps=(
        "Feel the fabric in five places, edges and corners first.",
        "Wet, damp, patchy or dry: record what you find.",
        "Close laps and edges; put ballast back.",
        "Dry anywhere: wet it now and call the lead.",
    ),
    log_fields=(
        "time", "condition found", "share of area", "laps and edges", "initials",
    ),
    met_by_wetting=True,
)  # fmt: skip
