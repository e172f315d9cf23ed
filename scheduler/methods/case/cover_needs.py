"""Which covers a surface takes from the site's stock, and what lays and lifts them."""

from collections.abc import Collection, Iterator, Sequence

from models.drying.covers import cover_properties, soak_lead_min, stays_wet_min
from models.records import CoverNeed, CoverSupply, Site, Task
from scheduler.methods.case.protocol import Case, Chain


def cover_supplies(site: Site) -> tuple[CoverSupply, ...]:
    """Give the covers the site owns, by kind; a kind it does not list is no limit."""
    return tuple(
        CoverSupply(
            kind=stock.kind,
            title=cover_properties(stock.kind).title,
            stock_m2=stock.stock_m2,
            stays_wet_min=stays_wet_min(),
        )
        for stock in site.covers
    )


def cover_needs(
    stages: Sequence[tuple[Case, Chain]], site: Site, planned: Collection[str]
) -> Iterator[CoverNeed]:
    """Yield the covers of one surface, stage by stage, of kinds in stock.

    Parameters
    ----------
    stages : sequence of (Case, Chain)
        Of the surface, in order.
    planned : collection of str
        Ids of the tasks that the plan can do.
    """
    stocks = {stock.kind: stock for stock in site.covers}
    laid = [
        [task for task in chain.tasks if task.facts.lays and task.id in planned]
        for _, chain in stages
    ]
    removed = [
        task for task in stages[-1][1].tasks if task.facts.lifts and task.id in planned
    ]
    begun = [case.covered_from_min is not None for case, _ in stages]
    for i, (case, chain) in enumerate(stages):
        stock = stocks.get(case.surface.cover.kind)
        if stock is None or any(begun[i + 1 :]) or not (begun[i] or laid[i]):
            continue
        follows = next((j for j in range(i + 1, len(laid)) if _lifts(stages[j])), None)
        lifting = removed if follows is None else _until_sealed(laid[follows])
        if begun[i] and follows is None and not removed and case.ends_min <= 0:
            continue  # cured before the plan began and lifted since
        need = CoverNeed(
            kind=stock.kind,
            area_m2=case.surface.area_m2,
            lies_from_min=case.covered_from_min,
            laid_by=None if begun[i] else laid[i][0].id,
            lifted_by=tuple(task.id for task in lifting),
            turnaround_min=stock.turnaround_min,
        )
        yield need if begun[i] else _soaked(need, case, chain, planned)


def _soaked(
    need: CoverNeed, case: Case, chain: Chain, planned: Collection[str]
) -> CoverNeed:
    """Say how long and by which visit covers that are to be laid are soaked."""
    lead_min = soak_lead_min(case.stocks[need.kind])
    tasks = {task.kind: task for task in chain.tasks if task.id in planned}
    soaks, looks = tasks.get("soak_ahead"), tasks.get("hold_point")
    in_water_until_min = 0
    if soaks is not None:
        first_min = case.gangs.first_work_min()
        in_water_until_min = first_min + soaks.duration_min + lead_min
    return need.model_copy(
        update={
            "soak_lead_min": lead_min,
            "soaked_by": soaks.id if soaks else None,
            "in_water_until_min": in_water_until_min,
            "checked_by": looks.id if soaks and looks else None,
        }
    )


def _lifts(stage: tuple[Case, Chain]) -> bool:
    """Whether the one before comes off for a later cover; not for a pond, on it."""
    return stage[0].surface.cover.form != "pond"


def _until_sealed(tasks: Sequence[Task]) -> list[Task]:
    """Give the tasks up to the first coat that seals: by then the old cover is off."""
    for i, task in enumerate(tasks):
        if task.seals:
            return list(tasks[: i + 1])
    return list(tasks)
