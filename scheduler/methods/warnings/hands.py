"""Work beyond the gangs or the water of the site: too many people, too long."""

from collections.abc import Iterator

from models.quantities import show
from models.records import Finding, SiteInput, Task
from scheduler.methods.case.protocol import Case, Chain
from scheduler.methods.chains.registry import FOGGING
from scheduler.methods.families.steam import unwatched


def too_few_hands(site_input: SiteInput, case: Case, chain: Chain) -> Iterator[Finding]:
    """Say which work of a surface is beyond what there is, once a kind of work.

    The words leave out the surface.
    """
    for alone in unwatched(case):
        yield Finding(
            kind="missed",
            words=(
                "steam without a steam_operator on shift "
                f"{case.clock.span(alone.from_min, alone.until_min)}"
            ),
            starts_at=site_input.horizon.at(alone.from_min),
            ends_at=site_input.horizon.at(alone.until_min),
            surface_id=case.surface.id,
        )
    said = set()
    fog = FOGGING.chain(case).tasks
    rewets = (chain.rewet,) if chain.rewet else ()
    for task in (*fog, *chain.tasks, *rewets):
        beside = [t for t in fog if t.earliest_min == task.earliest_min]
        why = _lacks(case, task, sum(t.people for t in beside))
        what = task.title if why else task.full_title
        why = why or _takes_too_long(case, task)
        if why and task.kind not in said and task.earliest_min < case.horizon_min:
            said.add(task.kind)
            yield Finding(
                kind="missed",
                words=f"{what.lower()} {why}",
                starts_at=site_input.horizon.at(task.earliest_min),
                ends_at=site_input.horizon.at(min(task.latest_min, case.horizon_min)),
                surface_id=case.surface.id,
            )


def _lacks(case: Case, task: Task, foggers: int) -> str:
    """Say what a task asks for that the site has not; "" if it has all.

    ``foggers`` are wanted on all of the surface while it is fogged.
    """
    skill = task.skills[0]
    largest = case.gangs.largest(skill)
    if largest == 0:
        return f"needs a {skill}; no crew has one"
    if task.people > largest:
        return f"needs {task.people} people; the largest gang has {largest}"
    if task.kind == "fog":
        wanted_l_min = foggers * case.table["fogging"]["nozzle_flow"]
        if wanted_l_min > case.flow_l_min:
            return (
                f"needs {_flow(case, wanted_l_min)}; its water point gives "
                f"{_flow(case, case.flow_l_min)}"
            )
        there = case.gangs.all_on_shift(skill, task.earliest_min, task.latest_min)
        most_m2 = case.table["fogging"].by_name["area_per_person"].high
        if there and case.surface.area_m2 > there * most_m2:
            return (
                f"has {there} people for {case.area(case.surface.area_m2)}; one "
                f"person keeps {case.area(most_m2)} damp at most"
            )
    return ""


def _takes_too_long(case: Case, task: Task) -> str:
    """Say that nobody works so long without a break; "" if somebody does."""
    longest_min = case.gangs.longest_stretch_min(task.skills[0], task.people)
    if task.duration_min <= longest_min:
        return ""
    if _flow_bound(case, task):
        flow = _flow(case, case.flow_l_min)
        return (
            f"takes {task.duration_min} min at the {flow} of its water point; nobody "
            f"works longer than {longest_min} min without a break"
        )
    return (
        f"takes {task.duration_min} min with {task.people} people; nobody works "
        f"longer than {longest_min} min without a break: more people, smaller pours"
    )


def _flow_bound(case: Case, task: Task) -> bool:
    """Tell whether all that the water point gives is drawn, so hands do not help."""
    return task.water is not None and task.water.flow_l_min > 0.95 * case.flow_l_min


def _flow(case: Case, flow_l_min: float) -> str:
    return show("flow", flow_l_min, case.units)
