"""Timers of a whole site: a method that runs on one shares the water of the others."""

from collections.abc import Sequence
from dataclasses import dataclass

from models.errors import InputError, Problem
from models.records import SiteInput, Surface
from scheduler.clocked import Clocked
from scheduler.methods.case.figures import figures_for
from scheduler.methods.expand import expand
from scheduler.methods.surfaces import surfaces_of


@dataclass(frozen=True)
class Timers:
    """Surfaces whose plan runs on timers, in the order of the site."""

    clocked: Clocked
    order: tuple[str, ...]
    planned: tuple[Surface, ...]

    def against(self, version: Surface, surface_id: str) -> Problem | None:
        """Say what a plan would refuse if that surface were on a timer as well."""
        by_id = {one.id: one for one in self.planned} | {surface_id: version}
        together = tuple(by_id[one] for one in self.order if one in by_id)
        return _refused(self.clocked, together)


def timers_of(clocked: Clocked) -> Timers:
    """Find the timers of a plan among clocked surfaces; not those refused anyway."""
    known = {one.id: one for one in clocked.surfaces}
    order = tuple(one.id for one in surfaces_of(clocked.site_input))
    timed = on_timers(clocked.site_input, [known[one] for one in order if one in known])
    usable = tuple(one for one in timed if _refused(clocked, (one,)) is None)
    return Timers(clocked, order, usable)


def on_timers(
    site_input: SiteInput, surfaces: Sequence[Surface]
) -> tuple[Surface, ...]:
    """Keep the surfaces of which some method draws its water on a timer."""
    figures = figures_for(site_input.site.rates)

    def timed(surface: Surface) -> bool:
        named = (surface.method, *(stage.method for stage in surface.later))
        return any("dose_a_day" in figures[method] for method in named)

    return tuple(surface for surface in surfaces if timed(surface))


def _refused(clocked: Clocked, surfaces: tuple[Surface, ...]) -> Problem | None:
    try:
        expand(clocked.site_input, surfaces, clocked.hydration, clocked.drying)
    except InputError as error:
        return error.problems[0]
    return None
