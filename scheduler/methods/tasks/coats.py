"""Coats of compound: one thick one, or two at right angles."""

from models.records import Link, Material, Task
from scheduler.methods.case.protocol import Case, Window, end_min, links, window
from scheduler.methods.tasks.cautions import cautions
from scheduler.methods.tasks.covering import LATEST_AFTER_DUE_MIN
from scheduler.methods.tasks.labour import Job, Labour, in_parts, slowdown


def coats_wanted(case: Case) -> int:
    """Give the number of coats; the site may say one in ``[rates]``."""
    return round(case.figures["coats"])


def _dose_l_m2(case: Case) -> float:
    """Of one coat; a single one is thicker [L/m²]."""
    two = coats_wanted(case) > 1
    return case.figures["coat_dose" if two else "single_coat_dose"]


def whole_l(case: Case) -> float:
    """Compound for the whole surface [L]."""
    return coats_wanted(case) * _dose_l_m2(case) * case.surface.area_m2


def from_min(case: Case) -> int:
    """Give the time from which it may be sprayed: at a change, from a little before."""
    around_min = round(case.common["hand_over"]) if case.stage else 0
    return case.ready_min - around_min


def within_min(case: Case) -> int:
    """How soon a compound must be on: after the sheen, the forms, or its time."""
    profile = case.profile
    if case.stage:
        return 2 * round(case.common["hand_over"])
    if case.surface.face != "top":
        return profile.compound_after_forms_min
    return profile.compound_within_min


def spray_coats(case: Case, mixed: Task) -> tuple[Task, ...]:
    """Each coat in parts if it is large; with the last part of all it is sealed.

    At a change of cover the first coat seals already: what lay there comes off strip
    by strip before it.
    """
    figures, stage = case.figures, case.stage
    wanted = coats_wanted(case)
    lay_there = stage.after if stage else None
    gap_min = round(figures["coat_gap"])
    gap_most_min = max(gap_min, round(figures["coat_gap_most"]))
    start_min = max(from_min(case), end_min(mixed), end_min(lay_there))
    due_min = from_min(case) + within_min(case)
    mixed_link = Link(task_id=mixed.id, max_gap_min=round(2 * figures["mix_ahead"]))
    after = (mixed_link, *links(lay_there))
    tasks: list[Task] = []
    for coat in range(1, wanted + 1):
        parts = _parts(case, lifting=coat == 1)
        latest_min = due_min + coat * LATEST_AFTER_DUE_MIN
        for i, work in enumerate(parts):
            when = window(start_min, due_min, latest_min, work.duration_min)
            last = i == len(parts) - 1
            seals = last and (coat == wanted or stage is not None)
            of = (i, len(parts))
            tasks.append(_coat(case, coat, of, work, when, after, seals))
            after = links(tasks[-1])
            start_min = end_min(tasks[-1])
        after = (
            Link(task_id=tasks[-1].id, min_gap_min=gap_min, max_gap_min=gap_most_min),
        )
        start_min += gap_min
        due_min = tasks[-1].due_min + gap_most_min + parts[0].duration_min
    return tuple(tasks)


def _powered(case: Case) -> bool:
    return case.surface.area_m2 >= case.figures["powered_from"]


def _parts(case: Case, lifting: bool) -> tuple[Labour, ...]:
    """Staff one coat, what lies there lifted before the first."""
    lifts = case.stage.lift_rates_m2_h if case.stage and lifting else ()
    job = Job(
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
    of: tuple[int, int],
    work: Labour,
    when: Window,
    after: tuple[Link, ...],
    seals: bool,
) -> Task:
    """One part of one coat; ``of`` is its index and the count of parts."""
    index, count = of
    changes = case.stage is not None and coat == 1
    litres_l = _dose_l_m2(case) * work.area_m2
    part = f", part {index + 1} of {count}" if count > 1 else ""
    lifts = f"{case.stage.lifts} off, ".capitalize() if case.stage and changes else ""
    spray = "spray compound" if lifts else "Spray compound"
    sprayer = "powered sprayer" if _powered(case) else "hand sprayer"
    return Task(
        id=case.task_id(f"coat{coat}-{index + 1}" if count > 1 else f"coat{coat}"),
        surface_id=case.surface.id,
        kind="change_cover" if changes else "spray_compound",
        title=f"{lifts}{spray}, coat {coat}{part}",
        earliest_min=when.earliest_min,
        due_min=when.due_min,
        latest_min=when.latest_min,
        duration_min=work.duration_min,
        people=work.people,
        skills=("sprayer",),
        effect="seal" if seals else "protect",
        covers=seals and case.stage is None,
        after=after,
        missed_cost=case.costs.missed_work,
        late_cost_per_min=case.costs.late_cost_per_min,
        materials=(Material(name="compound", amount=case.water(litres_l)),),
        tools=(sprayer, "wind shroud", "goggles and gloves", "measuring can"),
        steps=_steps(case, coat),
        cautions=cautions("compound", "slips"),
        log_fields=("start", "stop", "litres", "area", "wind", "initials"),
    )


def _steps(case: Case, coat: int) -> tuple[str, ...]:
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
