"""Curing compound, clear or white: two coats at right angles, then hands off."""

from models.records import Link, Material, Task
from scheduler.methods.cautions import cautions
from scheduler.methods.covering import LATEST_AFTER_DUE_MIN
from scheduler.methods.hold_point import hold_point
from scheduler.methods.inspections import look_min, looks_per_day
from scheduler.methods.protocol import Case, Chain, Window, window
from scheduler.methods.worktime import Job, Labour, in_parts, slowdown


class Compound:
    """A film sprayed on once; no water, no rewets, nothing to take off."""

    def chain(self, case: Case) -> Chain:
        """Hold point, mixing, two coats, coverage, rain watch, a look a day."""
        if case.covered_from_min is not None:
            looks = looks_per_day(case, case.covered_from_min, _LOOK, _LOOK_LOG)
            return Chain(tasks=looks, covered_min=case.covered_from_min)
        mixed = _mix(case)
        coats = _coats(case, mixed)
        first, last = coats[0], coats[-1]
        sealed_min = last.earliest_min + last.duration_min
        kit = "compound, sprayer, spare nozzle, measuring can"
        return Chain(
            tasks=(
                *hold_point(case, kit),
                mixed,
                *coats,
                _coverage(case, last),
                *_rain_watch(case, last),
                *looks_per_day(case, sealed_min, _LOOK, _LOOK_LOG),
            ),
            covered_min=sealed_min,
            own_time_min=last.earliest_min - first.earliest_min,
        )


def _within_min(case: Case) -> int:
    """How soon a compound must be on: after the sheen, or after the forms."""
    profile = case.profile
    if case.surface.face == "formed":
        return profile.compound_after_forms_min
    return profile.compound_within_min


def _mix(case: Case) -> Task:
    needs_min = round(case.figures["mix"])
    when = window(
        case.ready_min - round(case.figures["mix_ahead"]),
        case.ready_min,
        case.ready_min + _within_min(case) + LATEST_AFTER_DUE_MIN,
        needs_min,
    )
    litres_l = 2 * case.figures["coat_dose"] * case.surface.area_m2
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


def _coats(case: Case, mixed: Task) -> tuple[Task, ...]:
    """Both coats, each in parts if it is large; the last part of the second seals."""
    figures = case.figures
    powered = case.surface.area_m2 >= figures["powered_from"]
    job = Job(
        rates_m2_h=(figures["coat_powered" if powered else "coat"],),
        people=figures.people("coat_people"),
        target_min=case.common["job_target"],
        skill="sprayer",
    )
    strength = case.gangs.on_shift("sprayer", case.ready_min, case.ready_min + 120)
    parts = in_parts(case, job, slowdown(case, case.ready_min), strength)
    sprayer = "powered sprayer" if powered else "hand sprayer"

    gap_min = round(figures["coat_gap"])
    gap_most_min = max(gap_min, round(figures["coat_gap_most"]))
    start_min = max(case.ready_min, mixed.earliest_min + mixed.duration_min)
    due_min = case.ready_min + _within_min(case)
    after = Link(task_id=mixed.id, max_gap_min=round(2 * figures["mix_ahead"]))
    tasks: list[Task] = []
    for coat in (1, 2):
        latest_min = due_min + coat * LATEST_AFTER_DUE_MIN
        for i, work in enumerate(parts):
            when = window(start_min, due_min, latest_min, work.duration_min)
            of = (i, len(parts))
            tasks.append(_coat(case, coat, of, work, when, after, sprayer))
            after = Link(task_id=tasks[-1].id)
            start_min = when.earliest_min + work.duration_min
        after = Link(
            task_id=tasks[-1].id, min_gap_min=gap_min, max_gap_min=gap_most_min
        )
        start_min += gap_min
        due_min = tasks[-1].due_min + gap_most_min + parts[0].duration_min
    return tuple(tasks)


def _coat(
    case: Case,
    coat: int,
    of: tuple[int, int],
    work: Labour,
    when: Window,
    after: Link,
    sprayer: str,
) -> Task:
    """One part of one coat; ``of`` is its index and the count of parts."""
    index, count = of
    seals = coat == 2 and index == count - 1
    litres_l = case.figures["coat_dose"] * work.area_m2
    part = f", part {index + 1} of {count}" if count > 1 else ""
    return Task(
        id=case.task_id(f"coat{coat}-{index + 1}" if count > 1 else f"coat{coat}"),
        surface_id=case.surface.id,
        kind="spray_compound",
        title=f"Spray compound, coat {coat}{part}",
        earliest_min=when.earliest_min,
        due_min=when.due_min,
        latest_min=when.latest_min,
        duration_min=work.duration_min,
        people=work.people,
        skills=("sprayer",),
        effect="seal" if seals else "protect",
        covers=seals,
        after=(after,),
        missed_cost=case.costs.missed_work,
        late_cost_per_min=case.costs.late_min,
        materials=(Material(name="compound", amount=case.water(litres_l)),),
        tools=(sprayer, "wind shroud", "goggles and gloves", "measuring can"),
        steps=_COATS[case.surface.face if coat == 1 else "second"],
        cautions=cautions("compound", "slips"),
        log_fields=("start", "stop", "litres", "area", "wind", "initials"),
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
    wanted = case.water(2 * case.figures["coat_dose"] * case.surface.area_m2)
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
        late_cost_per_min=case.costs.late_min,
        tools=("measuring can", "log"),
        steps=(
            "Read the drum: litres used = level before less level now.",
            f"Both coats together: at least {wanted} on {area}.",
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
    watch_min = round(60 * case.figures["rain_watch"])
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
            late_cost_per_min=case.costs.late_min,
            tools=("log",),
            steps=(
                "Look at the sky and the film; barrier closed?",
                "Rained on within three hours: it is to be sprayed again.",
                "Write the time the film was dry to the touch.",
            ),
            cautions=cautions("slips", "load"),
            log_fields=("time", "rain", "film", "initials"),
        ),
    )


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
    "second": (
        "First coat tacky? Then at right angles to it.",
        "Keep the tank moving; shroud against wind.",
        "Close the barrier: no feet, no wheels on the film.",
    ),
}
_LOOK = (
    "Look along the film from low down: scuffs, scratches, bare spots.",
    "Spray again what is damaged, and a hand's breadth around it.",
    "Barrier closed, nobody across? Write what you find.",
)
_LOOK_LOG = ("time", "film whole or where not", "sprayed again", "initials")
