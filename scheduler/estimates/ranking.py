"""The order of the methods: what they cost here, then what else tells them apart.

Nothing here knows one method from another.
"""

from collections.abc import Iterable

from models.records import Candidate


def ranked(
    candidates: Iterable[Candidate], inspection_cost: float
) -> tuple[Candidate, ...]:
    """Put candidates in order and number them; equals keep their order.

    Parameters
    ----------
    candidates : iterable of Candidate
        Of one surface.
    inspection_cost : float
        Price of a missed inspection: costs of the same multiple of it are alike, as the
        rest of the week will change them by more. An hour outside the forecast's
        limits, or the rule's for the concrete, counts as one.

    Notes
    -----
    Among alike ones, as a foreman chooses: what suits the mix; what somebody must come
    to least often in a shift at worst; what is in the store; then less work to the full
    crew hour, and the cooler surface: so white compound comes before clear in the sun.
    """
    step = max(1.0, inspection_cost)
    order = sorted(candidates, key=lambda candidate: _key(candidate, step))
    return tuple(
        candidate.model_copy(update={"rank": place})
        for place, candidate in enumerate(order, 1)
    )


def _key(candidate: Candidate, step: float) -> tuple[float, ...]:
    return (
        candidate.cost // step + candidate.outside_h + candidate.off_limits_h,
        candidate.needs_added_water,
        candidate.visits_per_shift,
        not candidate.in_stock,
        round(candidate.crew_h),
        round(candidate.hottest_c, 1),
        candidate.crew_h,
    )
