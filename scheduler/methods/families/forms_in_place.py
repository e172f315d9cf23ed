"""Forms left in place: kept wet, eased, then struck and covered in the same hour."""

from collections.abc import Iterator

from models.records import Stretch, Task, TaskKind
from scheduler.methods.case.protocol import Case, Chain, window
from scheduler.methods.resources.stretches import clip
from scheduler.methods.tasks.cautions import Hazard, cautions
from scheduler.methods.tasks.covering import covered_from_min, last_of
from scheduler.methods.tasks.inspections import looks_per_shift, watches
from scheduler.methods.tasks.labour import Job, labour, slowdown
from scheduler.methods.tasks.removal import removal
from scheduler.methods.tasks.rewetting import rewet_pattern
from scheduler.methods.tasks.sheet_laying import LOOK, REWET, lay_sheet

_WITHIN_MIN = 60
_PLACED_MIN = 4 * 60


class FormsInPlace:
    """Care for faces in their forms until striking, then a sheet over burlap."""

    def chain(self, case: Case) -> Chain:
        """Wetting every shift, easing, and from striking on the chain of a sheet."""
        laid = lay_sheet(case, within_min=_WITHIN_MIN)
        covered_min = covered_from_min(case, laid)
        return Chain(
            tasks=(
                *_kept_wet(case),
                *_eased(case),
                *laid,
                *looks_per_shift(case, covered_min, LOOK),
                *removal(case, loosen_first=True),
            ),
            covered_min=covered_min,
            rewet=rewet_pattern(case, covered_min, laid, "Re-wet under sheet", REWET),
            laid=last_of(laid),
        )


def _kept_wet(case: Case) -> Iterator[Task]:
    """Run water along the top of the forms in every shift until they are struck."""
    needs_min = round(case.common["set_up"] + case.figures["keep_wet"])
    job = Job(
        rates_m2_h=(60 * case.surface.area_m2 / case.figures["keep_wet"],),
        people=range(1, 2),
        target_min=needs_min,
        dose_l_m2=case.figures["keep_wet_dose"],
    )
    for watch in watches(case):
        in_forms = clip(watch.stretch, case.placing_min + _PLACED_MIN, case.exposed_min)
        if in_forms:
            name = f"keep-wet/{watch.name}"
            yield from _visit(case, name, "keep_form_wet", in_forms, job, "slips")


def _eased(case: Case) -> Iterator[Task]:
    """Ease the forms once, a day after placing at the soonest."""
    eased_min = case.placing_min + round(60 * case.figures["ease_after"])
    job = Job(
        rates_m2_h=(case.figures["ease"],),
        people=case.figures.people("ease_people"),
        target_min=case.common["job_target"],
        dose_l_m2=case.figures["keep_wet_dose"],
    )
    in_forms = clip(
        Stretch(from_min=eased_min, until_min=case.exposed_min), 0, case.horizon_min
    ) if eased_min < case.exposed_min else None  # fmt: skip
    if in_forms:
        yield from _visit(case, "ease", "ease_forms", in_forms, job, "edges")


def _visit(
    case: Case,
    name: str,
    kind: TaskKind,
    when: Stretch,
    job: Job,
    hazard: Hazard,
) -> Iterator[Task]:
    """One visit to the forms, if it fits into the time given."""
    strength = case.gangs.on_shift("labourer", when.from_min, when.until_min)
    work = labour(case, job, case.surface.area_m2, slowdown(case, None, True), strength)
    if when.until_min - when.from_min < work.duration_min:
        return
    span = window(when.from_min, when.until_min, when.until_min, work.duration_min)
    yield Task(
        id=case.task_id(name),
        surface_id=case.surface.id,
        kind=kind,
        title=_TITLES[kind],
        earliest_min=span.earliest_min,
        due_min=span.due_min,
        latest_min=span.latest_min,
        duration_min=work.duration_min,
        people=work.people,
        water=work.water,
        missed_cost=case.costs.missed_inspection,
        late_cost_per_min=case.costs.late_cost_per_min,
        tools=("hose", "wooden wedges"),
        steps=_STEPS[kind],
        cautions=cautions(hazard, "run_off"),
        log_fields=("time", "forms seen", "litres", "initials"),
    )


_TITLES: dict[TaskKind, str] = {
    "keep_form_wet": "Keep the forms wet",
    "ease_forms": "Ease forms, run water down",
}
_STEPS: dict[TaskKind, tuple[str, ...]] = {
    "keep_form_wet": (
        "Water along the top edge until it runs down behind the form.",
        "Timber outside too: open joints or pale boards want more.",
        "Steel in the sun: cool it with water, ring the lead if it is hot.",
    ),
    "ease_forms": (
        "Only on the word of the person in charge; nothing is taken away.",
        "Ease ties and wedges by a few millimetres; wooden wedges, no pinch bar.",
        "Run water down the gap over the whole length; keep the top wet.",
    ),
}
