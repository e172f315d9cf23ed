"""Coats of compound: one thick one, or two at right angles."""

from models.records import Link, Material, Task
from scheduler.methods.case.protocol import Case, Window, end_min, links
from scheduler.methods.tasks.builder import Brief, build_parts
from scheduler.methods.tasks.covering import LATEST_AFTER_DUE_MIN
from scheduler.methods.tasks.labour import Labour, Workload, in_parts, slowdown


def coats_wanted(case: Case) -> int:
    """Give the number of coats; the site may say one in ``[rates]``."""
    return round(case.figures["coats"])


def _dose_l_m2(case: Case) -> float:
    """Dose of one coat in L/m²; a single one is thicker."""
    two = coats_wanted(case) > 1
    return case.figures["coat_dose" if two else "single_coat_dose"]


def whole_l(case: Case) -> float:
    """Litres of compound for the whole surface, all coats."""
    return coats_wanted(case) * _dose_l_m2(case) * case.surface.area_m2


def from_min(case: Case) -> int:
    """Give the time from which it may be sprayed: at a change, from a little before.

    [min of the horizon]
    """
    around_min = round(case.common["hand_over"]) if case.stage else 0
    return case.ready_min - around_min


def within_min(case: Case) -> int:
    """Give the minutes after ``from_min`` within which the first coat must be on."""
    profile = case.profile
    if case.stage:
        return 2 * round(case.common["hand_over"])
    if case.surface.face != "top":
        return profile.compound_after_forms_min
    return profile.compound_within_min


def spray_coats(case: Case, mixed: Task) -> tuple[Task, ...]:
    """Ask for each coat, in parts if it is large; the last part of all seals.

    Each coat keeps its share of the water in from its start on. At a change of cover
    the first coat seals already: what lay there comes off strip by strip before it.
    """
    figures, stage = case.figures, case.stage
    lay_there = stage.after if stage else None
    gap_min = round(figures["coat_gap"])
    gap_most_min = max(gap_min, round(figures["coat_gap_most"]))
    start_min = max(from_min(case), end_min(mixed), end_min(lay_there))
    due_min = from_min(case) + within_min(case)
    mixed_link = Link(task_id=mixed.id, max_gap_min=round(2 * figures["mix_ahead"]))
    after = (mixed_link, *links(lay_there))
    begins_min = mixed.due_min
    tasks: list[Task] = []
    for coat in range(1, coats_wanted(case) + 1):
        latest_min = due_min + coat * LATEST_AFTER_DUE_MIN
        parts = _parts(case, lifting=coat == 1)
        when = Window(start_min, due_min, latest_min)
        tasks += _coat(case, coat, parts, when, begins_min, after)
        after = (
            Link(task_id=tasks[-1].id, min_gap_min=gap_min, max_gap_min=gap_most_min),
        )
        start_min = end_min(tasks[-1]) + gap_min
        begins_min = tasks[-1].due_min + gap_min
        due_min = tasks[-1].due_min + gap_most_min + parts[0].duration_min
    return tuple(tasks)


def _powered(case: Case) -> bool:
    """Whether the surface is large enough for a powered sprayer."""
    return case.surface.area_m2 >= case.figures["powered_from"]


def _parts(case: Case, lifting: bool) -> tuple[Labour, ...]:
    """Staff one coat; before the first, what lies there is lifted."""
    lifts = case.stage.lift_rates_m2_h if case.stage and lifting else ()
    job = Workload(
        rates_m2_h=(*lifts, case.figures["coat_powered" if _powered(case) else "coat"]),
        people=case.figures.people("coat_people"),
        target_min=case.common["job_target"],
        skill="sprayer",
    )
    strength = case.gangs.on_shift("sprayer", case.ready_min, case.ready_min + 120)
    return in_parts(case, job, slowdown(case, case.ready_min), strength)


def _coat(
    case: Case,
    coat: int,
    parts: tuple[Labour, ...],
    when: Window,
    begins_min: int,
    after: tuple[Link, ...],
) -> tuple[Task, ...]:
    """Spray one coat, the first of them 1; at a change it takes the cover's place."""
    stage = case.stage
    changes = stage is not None and coat == 1
    coats = coats_wanted(case)
    seals = stage is not None or coat == coats
    lifts = f"{stage.lifts} off, " if stage and changes else ""
    brief = Brief(
        title=f"{lifts}spray compound, coat {coat}".capitalize(),
        steps=_steps(case, coat),
        hazards=("compound", "slips"),
        tools=(
            "powered sprayer" if _powered(case) else "hand sprayer",
            "wind shroud", "goggles and gloves", "measuring can",
        ),
        log_fields=("start", "stop", "litres", "area", "wind", "initials"),
    )  # fmt: skip

    def material(work: Labour) -> Material:
        litres_l = _dose_l_m2(case) * work.area_m2
        return Material(name="compound", volume_l=round(litres_l, 2))

    return build_parts(
        case,
        "change_cover" if changes else "spray_compound",
        f"coat{coat}",
        brief,
        when,
        parts,
        material,
        skill="sprayer",
        effect="seal" if seals else "protect",
        effect_before="protect",
        covers=seals and stage is None,
        kept_share=0 if stage else 1 / coats,
        begins_min=begins_min,
        after=after,
    )


def _steps(case: Case, coat: int) -> tuple[str, ...]:
    """Say how to spray a coat, the first of them 1."""
    if coat > 1:
        return _COATS["second"]
    if case.stage:
        return (f"Why: {case.stage.reason}.", *_COATS["change"])
    return _COATS["top" if case.surface.face == "top" else "formed"]


_COATS: dict[str, tuple[str, ...]] = {
    "top": (
        "Sheen gone, no water standing, surface still damp? If dry, fog it first.",
        "Spray strip by strip, one direction, nozzle at one height.",
        "Keep the tank moving; shroud against wind.",
        "Let it get tacky; nobody walks on it.",
    ),
    "formed": (
        "Forms off: wet the face, wait until free water has just gone.",
        "Spray from the top down, nozzle at one distance.",
        "Keep the tank moving; shroud against wind.",
        "Edges, corners and tie holes too.",
    ),
    "change": (
        "Lift the covers strip by strip; free water just gone, the face still damp.",
        "Spray each strip at once, one direction, nozzle at one height.",
        "Keep the tank moving; shroud against wind; nobody walks on it.",
    ),
    "second": (
        "First coat tacky? Then at right angles to it.",
        "Keep the tank moving; shroud against wind.",
        "Close the barrier: no feet, no wheels on the film.",
    ),
}
