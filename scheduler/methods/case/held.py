"""Mornings on which a cover must stay on: lifted then, the concrete would take a shock.

Each worked morning after curing, and the midday after it, is tried on clock 1: the
cover comes off, and the days that follow are held against the rule's limits of cooling
and of core against face.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from models.drying.surroundings import Surroundings
from models.hydration.lifted import Lifting, lifted
from models.records import (
    HydrationHistory,
    MethodKey,
    SiteInput,
    Stretch,
    Surface,
)
from scheduler.methods.case.figures import figures_for
from scheduler.methods.case.put_off import PutOff
from scheduler.methods.case.shock import Shock, above_air, broken, worst
from scheduler.methods.resources.calendar import site_calendar

#: Covers left on longer do no harm but are missing elsewhere. [min]
LATEST_AFTER_DUE_MIN = 3 * 24 * 60
_LEAST_OF_MORNING_MIN = 60
_DAY_MIN = 24 * 60


@dataclass(frozen=True)
class Held:
    """Why covers and forms stay on.

    Attributes
    ----------
    shocks : mapping
        Start of a morning on which the last cover may not come off -> its worst shock.
    middays : tuple of Stretch
        Warm hours of such days in which it may.
    put_off : tuple of PutOff
        What comes off later than asked.
    """

    shocks: Mapping[int, Shock]
    middays: tuple[Stretch, ...] = ()
    put_off: tuple[PutOff, ...] = ()

    def until_min(self, from_min: int) -> float:
        """Start of the next such morning after a minute; infinite for none."""
        return min((m for m in self.shocks if m > from_min), default=np.inf)


NOT_HELD = Held({})
NONE_HELD: Mapping[str, Held] = {}


def mornings_after(
    mornings: Sequence[Stretch],
    curing_end_min: int | None,
    horizon_min: int,
    lies: bool,
) -> Iterator[Stretch]:
    """Yield the worked mornings on which a cover may come off, curing being over.

    Curing that ended shortly before the plan, over a weekend say, left its covers for
    this one.
    """
    earliest_min = -LATEST_AFTER_DUE_MIN if lies else 0
    if curing_end_min is None or not earliest_min <= curing_end_min < horizon_min:
        return
    for morning in mornings:
        if morning.until_min >= curing_end_min + _LEAST_OF_MORNING_MIN:
            yield morning


def held_mornings(
    site_input: SiteInput,
    surfaces: Sequence[Surface],
    around: Surroundings,
    hydration: HydrationHistory,
) -> dict[str, Held]:
    """Find the mornings of all surfaces on which their covers must stay on.

    Parameters
    ----------
    site_input : SiteInput
        The site, with the rules of its surfaces.
    surfaces : sequence of Surface
        In the order of the columns of ``around`` and ``hydration``.
    around : Surroundings
        Weather at the surfaces.
    hydration : HydrationHistory
        Clock 1, all covers kept on.

    Returns
    -------
    dict
        Surface id -> its mornings, of the surfaces that have any.
    """
    site, length_min = site_input.site, site_input.horizon.length_min
    cool_h = figures_for(site.rates)["all"]["cool_morning"]
    calendar = site_calendar(site, site_input.horizon, cool_h)
    to_lift = [*_to_lift(site_input, surfaces, hydration)]

    def tried(when: Sequence[Stretch]) -> Iterator[_Try]:
        for surface, method, ended_min in to_lift:
            lies = surface.covered_at is not None
            for hours in mornings_after(when, ended_min, length_min, lies):
                at_min = max(0, ended_min, hours.from_min)
                yield _Try(surface, method, hours, at_min)

    shocks: dict[str, dict[int, Shock]] = {}
    for one, shock in _shocks(
        [*tried(calendar.mornings)], site_input, around, hydration
    ):
        if shock is not None:
            shocks.setdefault(one.surface.id, {})[one.hours.from_min] = shock
    # Only after a morning that is held is the midday asked for.
    asked = [
        one
        for one in tried(calendar.middays)
        if any(
            0 <= one.hours.from_min - morning_min < _DAY_MIN
            for morning_min in shocks.get(one.surface.id, ())
        )
    ]
    free: dict[str, list[Stretch]] = {}
    for one, shock in _shocks(asked, site_input, around, hydration):
        if shock is None:
            free.setdefault(one.surface.id, []).append(one.hours)
    return {key: Held(found, tuple(free.get(key, ()))) for key, found in shocks.items()}


def _shocks(
    tried: Sequence["_Try"],
    site_input: SiteInput,
    around: Surroundings,
    hydration: HydrationHistory,
) -> Iterator[tuple["_Try", Shock | None]]:
    """Yield each lifting with the limit that it would break worst."""
    at, table = site_input.horizon.at, figures_for(site_input.site.rates)
    shape = hydration.surface_temperature_c.shape
    air_c = np.broadcast_to(around.air_temperature_c, shape)
    liftings = [Lifting(one.surface, at(one.at_min)) for one in tried]
    outcomes = lifted(liftings, site_input, around, hydration)
    for one, after in zip(tried, outcomes, strict=True):
        step = hydration.grid.step(at(one.at_min))
        above_k = float(after.face_c[0] - air_c[step, after.column])
        profile = site_input.profiles[one.surface.profile_id]
        yield (
            one,
            worst(
                (
                    *broken(profile, one.surface.thickness_mm, after, one.at_min),
                    *above_air(table[one.method], above_k, one.at_min),
                )
            ),
        )


class _Try(NamedTuple):
    """Hours in which a surface's last cover might come off."""

    surface: Surface
    method: MethodKey
    hours: Stretch
    at_min: int


def _to_lift(
    site_input: SiteInput, surfaces: Sequence[Surface], hydration: HydrationHistory
) -> Iterator[tuple[Surface, MethodKey, int]]:
    """Yield what will lie under a cover when its curing ends, that cover and minute."""
    for surface, events in zip(surfaces, hydration.events, strict=True):
        if events.curing_ends is None:
            continue
        ends_at, horizon = events.curing_ends.expected_at, site_input.horizon
        bare_at = max(surface.exposed_at, horizon.starts_at)
        if surface.covered_at is None and ends_at <= bare_at:
            continue  # nothing is laid any more
        begun = sum(stage.starts_at < ends_at for stage in surface.later)
        method = surface.later[begun - 1].method if begun else surface.method
        if surface.covers[begun].form != "film":
            had = surface.model_copy(update={"later": surface.later[:begun]})
            yield had, method, horizon.minute(ends_at)
