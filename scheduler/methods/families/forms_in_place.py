"""Forms left in place: kept wet, eased, then struck and covered in the same hour."""

from collections.abc import Iterator
from typing import Literal

from models.records import Stretch, Task
from scheduler.methods.case.protocol import Case, Chain, Window, lies_by
from scheduler.methods.resources.stretches import clip
from scheduler.methods.tasks.builder import Brief, build_task
from scheduler.methods.tasks.covering import covered_from_min, last_of
from scheduler.methods.tasks.inspections import watches
from scheduler.methods.tasks.labour import Workload, labour, slowdown
from scheduler.methods.tasks.removal import removal
from scheduler.methods.tasks.sheet_laying import care_of_sheet, lay_sheet

_FormWork = Literal["keep_form_wet", "ease_forms"]
#: A struck face is covered within this. [min]
_WITHIN_MIN = 60
#: Forms are full and want water from here on. [min after the start of placing]
_PLACED_MIN = 4 * 60


class FormsInPlace:
    """Care for faces in their forms until striking, then a sheet over burlap."""

    def chain(self, case: Case) -> Chain:
        """Ask for wetting every shift, easing and, once struck, a sheet's chain."""
        laid = lay_sheet(case, within_min=_WITHIN_MIN)
        covered_min, lies = covered_from_min(case, laid), lies_by(case, laid)
        looked_at, rewet = care_of_sheet(case, laid, covered_min)
        return Chain(
            tasks=(
                *_kept_wet(case),
                *_eased(case),
                *laid,
                *looked_at,
                *removal(case, loosen_first=True, after=lies),
            ),
            covered_min=covered_min,
            rewet=rewet,
            laid=last_of(laid),
        )


def _kept_wet(case: Case) -> Iterator[Task]:
    """Run water along the top of the forms in every shift until they are struck."""
    needs_min = round(case.common["set_up"] + case.figures["keep_wet"])
    job = Workload(
        rates_m2_h=(60 * case.surface.area_m2 / case.figures["keep_wet"],),
        people=range(1, 2),
        target_min=needs_min,
        dose_l_m2=case.figures["keep_wet_dose"],
    )
    for watch in watches(case):
        in_forms = clip(watch.stretch, case.placing_min + _PLACED_MIN, case.exposed_min)
        if in_forms:
            name = f"keep-wet/{watch.name}"
            yield from _visit(case, name, "keep_form_wet", in_forms, job)


def _eased(case: Case) -> Iterator[Task]:
    """Ease the forms once, a day after placing at the soonest."""
    eased_min = case.placing_min + round(60 * case.figures["ease_after"])
    job = Workload(
        rates_m2_h=(case.figures["ease"],),
        people=case.figures.people("ease_people"),
        target_min=case.common["job_target"],
        dose_l_m2=case.figures["keep_wet_dose"],
    )
    in_forms = clip(
        Stretch(from_min=eased_min, until_min=case.exposed_min), 0, case.horizon_min
    ) if eased_min < case.exposed_min else None  # fmt: skip
    if in_forms:
        yield from _visit(case, "ease", "ease_forms", in_forms, job)


def _visit(
    case: Case, name: str, kind: _FormWork, when: Stretch, job: Workload
) -> Iterator[Task]:
    """One visit to the forms, if it fits into the time given."""
    strength = case.gangs.on_shift("labourer", when.from_min, when.until_min)
    work = labour(case, job, case.surface.area_m2, slowdown(case, None, True), strength)
    if when.until_min - when.from_min < work.duration_min:
        return
    yield build_task(
        case,
        kind,
        name,
        _BRIEFS[kind],
        Window(when.from_min, when.until_min, when.until_min),
        work,
    )


_BRIEFS: dict[_FormWork, Brief] = {
    "keep_form_wet": Brief(
        title="Keep the forms wet",
        steps=(
            "Water along the top edge until it runs down behind the form.",
            "Timber outside too: open joints or pale boards want more.",
            "Steel in the sun: cool it with water, call the lead if it is hot.",
        ),
        hazards=("slips", "run_off"),
        tools=("hose", "wooden wedges"),
        log_fields=("time", "forms seen", "litres", "initials"),
    ),
    "ease_forms": Brief(
        title="Ease forms, run water down",
        steps=(
            "Only on the word of the person in charge; nothing is taken away.",
            "Ease ties and wedges by a few millimetres; wooden wedges, no pinch bar.",
            "Run water down the gap over the whole length; keep the top wet.",
        ),
        hazards=("edges", "run_off"),
        tools=("hose", "wooden wedges"),
        log_fields=("time", "forms seen", "litres", "initials"),
    ),
}
