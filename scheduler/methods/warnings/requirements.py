"""What a method needs and may not get: warnings of a plan, before it is solved.

Nothing here stops a plan. The weather may turn out otherwise, covers may be hired,
a gang may be lent; but somebody should know now.
"""

from collections.abc import Mapping

from models.records import (
    DryingHistory,
    Finding,
    HydrationHistory,
    SiteInput,
    Surface,
)
from models.wording import three_of
from scheduler.methods.case.cases import cases_of
from scheduler.methods.case.held import NONE_HELD, Held
from scheduler.methods.chains.stages import stage_chains, whole_chain
from scheduler.methods.warnings.cold_water import cold_water
from scheduler.methods.warnings.cover_stock import covers_short
from scheduler.methods.warnings.forecast import forecast_limits
from scheduler.methods.warnings.fresh_concrete import (
    placed_too_cold_or_warm,
    rain_on_fresh,
)
from scheduler.methods.warnings.hands import too_few_hands
from scheduler.methods.warnings.held_removals import held_removal, put_off_words
from scheduler.methods.warnings.weekend import open_over_weekend


def warnings_of(
    site_input: SiteInput,
    surfaces: tuple[Surface, ...],
    hydration: HydrationHistory,
    drying: DryingHistory,
    held: Mapping[str, Held] = NONE_HELD,
) -> tuple[Finding, ...]:
    """Collect what a planner should know of methods, weather, covers and water.

    Returns
    -------
    tuple of Finding
        In order of start, then of words.
    """
    cases = cases_of(site_input, hydration, drying, held)
    whole = [cases.of(surface) for surface in surfaces]
    stages = [pair for case in whole for pair in stage_chains(case)]
    found = [one.of(who, " ") for who, one in covers_short(site_input, stages)]
    shared: list[tuple[str, Finding]] = []
    for one, chain in stages:
        label = one.surface.label
        shared += [(label, f) for f in forecast_limits(site_input, one, chain)]
        shared += [(label, f) for f in rain_on_fresh(site_input, one, chain)]
        shared += [(label, f) for f in placed_too_cold_or_warm(site_input, one)]
        shared += [(label, f) for f in open_over_weekend(site_input, one)]
        found += held_removal(site_input, one)
    for case in whole:
        found += put_off_words(site_input, case)
        label, chain = case.surface.label, whole_chain(case)
        found += [one.of(label) for one in too_few_hands(site_input, case, chain)]
    found += [one.of(who) for who, one in cold_water(site_input, stages, hydration)]
    found += _alike(shared)
    return tuple(sorted(found, key=lambda f: (f.starts_at, f.words)))


def _alike(labelled: list[tuple[str, Finding]]) -> list[Finding]:
    """Say once what weather or absence does to several surfaces."""
    groups: dict[str, list[tuple[str, Finding]]] = {}
    for label, finding in labelled:
        groups.setdefault(finding.words, []).append((label, finding))
    joined = []
    for group in groups.values():
        labels = [label for label, _ in group]
        one = group[0][1]
        joined.append(
            one.of(three_of(labels)).model_copy(
                update={
                    "starts_at": min(f.starts_at for _, f in group),
                    "ends_at": max(f.ends_at for _, f in group),
                    "surface_id": one.surface_id if len(group) == 1 else None,
                }
            )
        )
    return joined
