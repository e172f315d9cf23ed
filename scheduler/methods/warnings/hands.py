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
    rewets = (chain.rewet,) if chain.rewet else ()
    for task in (*FOGGING.chain(case).tasks, *chain.tasks, *rewets):
        why = _why(case, task)
        if why and task.kind not in said and task.earliest_min < case.horizon_min:
            said.add(task.kind)
            yield Finding(
                kind="missed",
                words=f"{task.full_title.lower()} {why}",
                starts_at=site_input.horizon.at(task.earliest_min),
                ends_at=site_input.horizon.at(min(task.latest_min, case.horizon_min)),
                surface_id=case.surface.id,
            )


def _why(case: Case, task: Task) -> str:
    """Say what a task asks for that the site has not; "" if it has all."""
    skill = task.skills[0]
    largest = case.gangs.largest(skill)
    if largest == 0:
        return f"needs a {skill}; no crew has one"
    if task.people > largest:
        return f"needs {task.people} people; the largest gang has {largest}"
    longest_min = case.gangs.longest_stretch_min(skill, task.people)
    if task.duration_min > longest_min and _flow_bound(case, task):
        flow = _flow(case, case.flow_l_min)
        return (
            f"takes {task.duration_min} min at the {flow} of its water point; nobody "
            f"works longer than {longest_min} min without a break"
        )
    if task.duration_min > longest_min:
        return (
            f"takes {task.duration_min} min with {task.people} people; nobody works "
            f"longer than {longest_min} min without a break: more people, smaller pours"
        )
    if task.kind == "fog":
        wanted_l_min = task.people * case.table["fogging"]["nozzle_flow"]
        if wanted_l_min > case.flow_l_min:
            return (
                f"needs {_flow(case, wanted_l_min)}; its water point gives "
                f"{_flow(case, case.flow_l_min)}"
            )
        most_m2 = case.table["fogging"].by_name["area_per_person"].high
        if case.surface.area_m2 > task.people * most_m2:
            return (
                f"has {task.people} people for {case.area(case.surface.area_m2)}; one "
                f"person keeps {case.area(most_m2)} damp at most"
            )
    return ""


def _flow_bound(case: Case, task: Task) -> bool:
    """Tell whether all that the water point gives is drawn, so hands do not help."""
    return task.water is not None and task.water.flow_l_min > 0.95 * case.flow_l_min


def _flow(case: Case, flow_l_min: float) -> str:
    return show("flow", flow_l_min, case.units)
