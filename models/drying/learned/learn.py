"""Finds of a site turned into figures of its covers, by kind and by surface.

Surfaces under one kind of cover dry alike but not the same: what each of them says of
the kind is blurred by how far they lie apart, and what the others say stands before a
surface's own finds as its prior.
"""

from collections import defaultdict
from collections.abc import Collection, Mapping, Sequence

import numpy as np

from models.drying.covers import cover_ranges
from models.drying.learned.belief import (
    Quantiles,
    Range,
    blurred,
    held_of,
    loss_of,
    prior,
)
from models.drying.learned.finds import Find, log_likelihood
from models.drying.ranges import Floats
from models.records import CoverKind, CoverProperties, LearnedCover, LearnedFactor

#: How far surfaces under one kind of cover lie apart: shade, wind, care with the laps.
#: Assumption. [of the logarithm of the loss]
SURFACE_SPREAD = 0.15
#: Fewer finds tell a surface not apart from its like (assumption).
LEAST_OF_SURFACE = 5
#: What the site has weighed it knows to a tenth (assumption).
_WEIGHED = Range(0.9, 1.1)


def learn(
    finds: Mapping[CoverKind, Sequence[Find]], weighed: Collection[CoverKind] = ()
) -> tuple[LearnedCover, ...]:
    """Learn from all finds of a site.

    Parameters
    ----------
    finds : mapping
        By the cover that was found; their order has no effect.
    weighed : collection of CoverKind
        Kinds for which the site itself says how much water they hold.

    Returns
    -------
    tuple of LearnedCover
        By kind; first the kind as a whole, then its surfaces with enough finds.
    """
    return tuple(
        learned
        for kind in sorted(finds)
        if finds[kind]
        for learned in _of_kind(kind, finds[kind], kind in weighed)
    )


def _of_kind(
    kind: CoverKind, finds: Sequence[Find], weighed: bool
) -> tuple[LearnedCover, ...]:
    loss, held = cover_ranges(kind)
    before = prior(Range(*loss), _WEIGHED if weighed else Range(*held))
    by_surface: defaultdict[str, list[Find]] = defaultdict(list)
    for find in sorted(finds, key=repr):  # sums must not hang on their order
        by_surface[find.surface_id].append(find)
    own = {
        surface_id: np.sum([log_likelihood(find) for find in found], axis=0)
        for surface_id, found in by_surface.items()
    }
    of_kind = {each: blurred(says, SURFACE_SPREAD) for each, says in own.items()}
    whole = before + np.sum(list(of_kind.values()), axis=0)
    learned = [_record(kind, None, finds, before, whole)]
    for surface_id, found in by_surface.items():
        if len(found) >= LEAST_OF_SURFACE:
            others = blurred(whole - of_kind[surface_id], SURFACE_SPREAD)
            after = others + own[surface_id]
            learned.append(_record(kind, surface_id, found, before, after))
    return tuple(learned)


def _record(
    kind: CoverKind,
    surface_id: str | None,
    finds: Sequence[Find],
    before: Floats,
    after: Floats,
) -> LearnedCover:
    return LearnedCover(
        cover=kind,
        surface_id=surface_id,
        finds=sum(find.says_condition for find in finds),
        refills=sum(find.says_refill for find in finds),
        loss_prior=_factor(loss_of(before)),
        loss=_factor(loss_of(after)),
        held_prior=_factor(held_of(before)),
        held=_factor(held_of(after)),
    )


def _factor(found: Quantiles) -> LearnedFactor:
    return LearnedFactor(
        median_factor=found.median, low_factor=found.low, high_factor=found.high
    )


def learned_of(
    learned: Sequence[LearnedCover], kind: CoverKind, surface_id: str
) -> LearnedCover | None:
    """Give what is known best of a cover on a surface; None where nothing was found."""
    own = [each for each in learned if each.cover == kind]
    of_surface = [each for each in own if each.surface_id == surface_id]
    whole = [each for each in own if each.surface_id is None]
    return next(iter((*of_surface, *whole)), None)


def as_learned(cover: CoverProperties, found: LearnedCover | None) -> CoverProperties:
    """Give a cover that loses and holds as was learned; itself where nothing was."""
    if found is None:
        return cover
    return cover.model_copy(
        update={
            "loss_factor": cover.loss_factor * found.loss.median_factor,
            "held_l_m2": cover.held_l_m2 * found.held.median_factor,
        }
    )
