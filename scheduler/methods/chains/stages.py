"""A surface's covers one after the other: each has a stage of its own."""

from collections.abc import Iterator
from dataclasses import replace

from models.records import Task
from scheduler.methods.case.protocol import Case, Chain, Stage
from scheduler.methods.chains.registry import family_of
from scheduler.methods.tasks.inspections import watches
from scheduler.methods.tasks.soaking_ahead import soak_ahead

#: A cover that would lie shorter than this is not laid; the next one comes first. [min]
_SHORTEST_STAGE_MIN = 120


def whole_chain(case: Case) -> Chain:
    """Give all stages of a surface as one chain."""
    return joined(stage_chains(case))


def joined(chains: list[tuple[Case, Chain]]) -> Chain:
    """Join the chains of all stages of a surface.

    A surface has one pattern of rewets, whose number is the roster's decision. It goes
    to the first cover that dries like open water; every other one gets a visit a
    shift, which the roster may leave out.
    """
    chosen = _most_open(chains)
    tasks = [
        task
        for one, chain in chains
        for task in (*chain.tasks, *(() if chain is chosen else _visits(one, chain)))
    ]
    first = chains[0][1]
    return replace(
        first,
        tasks=tuple(tasks),
        rewet=chosen.rewet if chosen else None,
        automatic=tuple(flow for _, chain in chains for flow in chain.automatic),
    )


def stage_chains(case: Case) -> list[tuple[Case, Chain]]:
    """Give each stage of a surface with its own chain."""
    chains: list[tuple[Case, Chain]] = []
    for one in stage_cases(case):
        if one.stage and chains:
            before, first = chains[-1][1].laid, chains[0][1].laid
            one = replace(one, stage=replace(one.stage, after=before, first=first))
        chain = family_of(one.surface.method).chain(one)
        tasks = (*soak_ahead(one, chain.tasks), *chain.tasks)
        chain = replace(chain, tasks=tasks)
        chains.append((one, _in_forms(one, chain) if one.cured_unseen else chain))
    return chains


def _in_forms(case: Case, chain: Chain) -> Chain:
    """Keep what is done while the forms are on: curing ends before they come off."""
    tasks = tuple(t for t in chain.tasks if t.latest_min <= case.exposed_min)
    return Chain(tasks=tasks, covered_min=chain.covered_min)


def stage_cases(case: Case) -> list[Case]:
    """Cut a surface's time into the cases of its covers.

    Covers that curing does not wait for are left out, and so is a first one that
    would lie for a moment only.
    """
    surface, table = case.surface, case.table
    own = [case]
    for number, (stage, starts_min) in enumerate(
        zip(surface.later, case.later_min, strict=True), start=1
    ):
        if starts_min >= case.ends_min:
            break
        last = own.pop()
        figures = table[last.surface.method]
        lies = surface.model_copy(
            update={"method": stage.method, "cover": stage.cover, "wetted_at": None}
        )
        follows = replace(case, surface=lies, ready_min=starts_min)
        begun = last.covered_from_min is not None or last.stage is not None
        if not begun and starts_min < last.ready_min + _SHORTEST_STAGE_MIN:
            own.append(replace(follows, ready_min=last.ready_min))
            continue
        own.append(replace(last, ends_min=starts_min, curing_end_min=None))
        there = case.covered_from_min is not None and starts_min <= 0
        rates = tuple(figures[n] for n in ("drain", "lift") if n in figures)
        follows = replace(
            follows,
            covered_from_min=starts_min if there else None,
            stage=Stage(
                number=number,
                lifts=last.cover_name,
                lift_rates_m2_h=rates,
                shut_off=_shut_off(last),
                reason=stage.reason,
                after=None,
                first=None,
            ),
        )
        own.append(follows)
    return own


def _shut_off(case: Case) -> str:
    """Say how the water is stopped before a cover is changed."""
    if case.surface.cover.form == "pond":
        return "Pump the pond to the sump, see the pH; bund off after it."
    if "dose_a_day" in case.figures:
        return "Timer off, lines drained and coiled."
    return ""


def _most_open(chains: list[tuple[Case, Chain]]) -> Chain | None:
    """Give the first chain whose cover dries like open water, else the first to wet."""
    asking = [(case, chain) for case, chain in chains if chain.rewet]
    is_open = (
        chain for case, chain in asking if case.surface.cover.film_kg_m2_h_kpa is None
    )
    return next(is_open, asking[0][1] if asking else None)


def _visits(case: Case, chain: Chain) -> Iterator[Task]:
    """Offer a rewet in every shift and on every day off of a stage."""
    pattern = chain.rewet
    if pattern is None:
        return
    for watch in watches(case):
        from_min = max(watch.stretch.from_min, pattern.earliest_min)
        until_min = min(watch.stretch.until_min, pattern.latest_min)
        if until_min - from_min >= pattern.duration_min:
            yield pattern.model_copy(
                update={
                    "id": f"{pattern.id}/{watch.name}",
                    "earliest_min": from_min,
                    "due_min": until_min,
                    "latest_min": until_min,
                }
            )
