"""Forms and covers that come off later than asked: the concrete would not bear it.

Asked are the striking of forms and planned changes to a thinner cover. Each is tried a
day later, and another, until clock 1 keeps the rule's limits; what finds no day in the
plan stays on for all of it. When forms are struck is the site's programme: what a face
falls in an hour is the audit's to tell and moves none of it.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import NamedTuple

import numpy as np

from models.drying.surroundings import Surroundings
from models.hydration.lifted import Lifting, lifted
from models.records import (
    EventWindow,
    HydrationHistory,
    MethodKey,
    Profile,
    SiteInput,
    Surface,
)
from scheduler.methods.case.figures import figures_for
from scheduler.methods.case.shock import Shock, above_air, broken, is_limited, worst

_DAY = timedelta(days=1)


@dataclass(frozen=True)
class PutOff:
    """What stays on beyond the minute asked for; until None for all of the plan."""

    what: str
    until_min: int | None
    shock: Shock


class _Ask(NamedTuple):
    """What is to come off a surface: its forms, or the cover before a later stage."""

    surface: Surface
    stage: int | None
    at: datetime
    what: str
    last_at: datetime

    @property
    def method(self) -> MethodKey:
        """Method of what comes off; that of the surface for forms."""
        before = self.surface.later[: self.stage or 0]
        return before[-1].method if before else self.surface.method

    def moved_to(self, at: datetime | None) -> Surface:
        """Give the surface with this at another time; None for not in the plan."""
        if self.stage is None:
            return self.surface.model_copy(update={"exposed_at": at or self.last_at})
        stages = list(self.surface.later)
        moved = stages.pop(self.stage)
        if at is not None:
            reason = f"{moved.reason}; not sooner, the concrete was too warm"
            if at == self.at:
                reason = moved.reason
            update = {"starts_at": at, "reason": reason}
            stages.insert(self.stage, moved.model_copy(update=update))
        return self.surface.model_copy(update={"later": tuple(stages)})


def put_off(
    site_input: SiteInput,
    surfaces: Sequence[Surface],
    around: Surroundings,
    hydration: HydrationHistory,
) -> tuple[tuple[Surface, ...], Mapping[str, tuple[PutOff, ...]]]:
    """Put off what would break a limit, and say what was put off, by surface.

    Parameters
    ----------
    site_input : SiteInput
        The site, with the rules of its surfaces.
    surfaces : sequence of Surface
        In the order of the columns of ``around`` and ``hydration``.
    around : Surroundings
        Weather at the surfaces.
    hydration : HydrationHistory
        Clock 1, everything done when it is asked for.
    """
    held: dict[str, list[PutOff]] = {}
    kept = {surface.id: surface for surface in surfaces}
    ends = {events.surface_id: events.curing_ends for events in hydration.events}
    asks = [
        ask
        for surface in surfaces
        if is_limited(site_input.profiles[surface.profile_id], surface.thickness_mm)
        for ask in _asks(site_input, surface, ends[surface.id])
    ]
    firsts = _shocks([(ask, ask.at) for ask in asks], site_input, around, hydration)
    for ask, shock in zip(asks, firsts, strict=True):
        if shock is None:
            continue
        days = [ask.at + _DAY * n for n in range(1, 1 + (ask.last_at - ask.at) // _DAY)]
        later = _shocks([(ask, at) for at in days], site_input, around, hydration)
        free_at = next(
            (at for at, found in zip(days, later, strict=True) if found is None), None
        )
        mine = ask._replace(surface=kept[ask.surface.id])
        kept[ask.surface.id] = mine.moved_to(free_at)
        until_min = site_input.horizon.minute(free_at) if free_at else None
        held.setdefault(ask.surface.id, []).append(PutOff(ask.what, until_min, shock))
    return tuple(kept[s.id] for s in surfaces), {k: tuple(v) for k, v in held.items()}


def _asks(
    site_input: SiteInput, surface: Surface, cured: EventWindow | None
) -> Iterator[_Ask]:
    """Yield what is to come off within the plan; steam falls at a rate of its own.

    No cover is changed once curing is over.
    """
    starts_at, ends_at = site_input.horizon.starts_at, site_input.horizon.ends_at
    if surface.face != "top" and starts_at <= surface.exposed_at < ends_at:
        yield _Ask(surface, None, surface.exposed_at, "forms", ends_at)
    if surface.steam is not None:
        return
    last_at = min(ends_at, cured.expected_at) if cured else ends_at
    ends = (*(stage.starts_at for stage in surface.later[1:]), last_at)
    # The last first: taking a stage away leaves the numbers of those before it.
    for number in reversed(range(len(surface.later))):
        before, after = surface.covers[number : number + 2]
        thinner = before.resistance_m2k_w > after.resistance_m2k_w
        at = surface.later[number].starts_at
        if thinner and starts_at <= at < last_at:
            yield _Ask(surface, number, at, before.name, min(ends[number], last_at))


def _shocks(
    tried: Sequence[tuple[_Ask, datetime]],
    site_input: SiteInput,
    around: Surroundings,
    hydration: HydrationHistory,
) -> list[Shock | None]:
    """Give the worst limit that each would break at its time."""
    ends = dict(zip(hydration.surface_ids, hydration.events, strict=True))
    liftings = []
    for ask, at in tried:
        cured = ends[ask.surface.id].curing_ends
        # Where curing is over no cover follows the forms.
        bare = ask.stage is None and cured is not None and cured.expected_at <= at
        liftings.append(Lifting(ask.moved_to(at), at, bare))
    outcomes = lifted(liftings, site_input, around, hydration)
    found: list[Shock | None] = []
    table = figures_for(site_input.site.rates)
    shape = hydration.surface_temperature_c.shape
    air_c = np.broadcast_to(around.air_temperature_c, shape)
    for (ask, at), after in zip(tried, outcomes, strict=True):
        profile, at_min = _of(ask, site_input), site_input.horizon.minute(at)
        shocks = [*broken(profile, ask.surface.thickness_mm, after, at_min)]
        if ask.stage is None:
            shocks = [one for one in shocks if one.kind != "hour"]
        else:
            step = hydration.grid.step(at)
            above_k = float(after.face_c[0] - air_c[step, after.column])
            shocks += above_air(table[ask.method], above_k, at_min)
        found.append(worst(shocks))
    return found


def _of(ask: _Ask, site_input: SiteInput) -> Profile:
    return site_input.profiles[ask.surface.profile_id]
