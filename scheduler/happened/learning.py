"""What the finds of a site say of its covers, ready to be learned from."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from datetime import datetime

from models.drying.learned.finds import Find
from models.drying.learned.learn import as_learned, learn, learned_of
from models.drying.learned.since import lost_since_l_m2
from models.records import (
    CoverKind,
    CoverProperties,
    DryingHistory,
    Entry,
    Found,
    LearnedCover,
    SiteInput,
    Surface,
    WorkDone,
)
from scheduler.happened.conditions import found_at

FullAt = Mapping[str, Sequence[datetime]]
"""Surface id -> instants at which its cover was full."""


def learned_from(
    site_input: SiteInput,
    surfaces: Sequence[Surface],
    drying: DryingHistory,
    entries: Sequence[Entry],
    full_at: FullAt,
) -> tuple[LearnedCover, ...]:
    """Learn how fast the site's covers dry and how much they hold.

    Parameters
    ----------
    drying : DryingHistory
        The clock before anything was learned.
    entries : sequence of Entry
        Those that stand.
    """
    finds: defaultdict[CoverKind, list[Find]] = defaultdict(list)
    by_id = {surface.id: surface for surface in surfaces}
    for entry in entries:
        surface, values = by_id.get(entry.about), entry.values
        if surface is None or not isinstance(values, Found | WorkDone):
            continue
        at = found_at(entry)
        since = max((one for one in full_at[surface.id] if one < at), default=None)
        cover = _cover_at(surface, at)
        if since is None or cover.held_l_m2 <= 0:
            continue
        said = values.condition if isinstance(values, Found) else values.found
        condition, tells = said or "unknown", said not in (None, "unknown")
        if not tells and values.litres_l is None:
            continue
        litres, area_m2 = values.litres_l, values.area_m2 or surface.area_m2
        finds[cover.kind].append(
            Find(
                surface_id=surface.id,
                condition=condition,
                lost_l_m2=lost_since_l_m2(drying, surface.id, since, at),
                held_l_m2=cover.held_l_m2,
                refilled_l_m2=None if litres is None else litres / area_m2,
            )
        )
    weighed = [one.kind for one in site_input.site.covers if one.held_l_m2 is not None]
    return learn(finds, weighed)


def _cover_at(surface: Surface, at: datetime) -> CoverProperties:
    begun = [stage.cover for stage in surface.later if stage.starts_at <= at]
    return begun[-1] if begun else surface.cover


def covered_as_learned(surface: Surface, learned: Sequence[LearnedCover]) -> Surface:
    """Let the covers of a surface dry and hold as was learned of their kinds."""

    def known(cover: CoverProperties) -> CoverProperties:
        return as_learned(cover, learned_of(learned, cover.kind, surface.id))

    later = tuple(
        stage.model_copy(update={"cover": known(stage.cover)})
        for stage in surface.later
    )
    return surface.model_copy(update={"cover": known(surface.cover), "later": later})
