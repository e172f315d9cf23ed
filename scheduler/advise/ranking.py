"""The order of the methods: by what they cost here, then by what else tells them apart.

Nothing here knows one method from another.
"""

from collections.abc import Iterable

from models.records import Candidate


def ranked(candidates: Iterable[Candidate]) -> tuple[Candidate, ...]:
    """Put candidates in order and number them; equals stay as they came.

    Where the site's own costs see no difference, fewer hours outside the forecast's
    limits come first, then less work to the full crew hour, then the cooler surface:
    that is how white compound comes before clear in the sun.
    """
    order = sorted(candidates, key=_key)
    return tuple(
        candidate.model_copy(update={"rank": place})
        for place, candidate in enumerate(order, 1)
    )


def _key(candidate: Candidate) -> tuple[int, int, int, float, float]:
    return (
        round(candidate.cost),
        candidate.outside_h,
        round(candidate.crew_h),
        round(candidate.hottest_c, 1),
        candidate.crew_h,
    )
