"""Both clocks of every surface of a site: on the forecast, and on either side of it."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from models.drying import clock as drying_clock
from models.drying.cautious import cautious, lenient
from models.drying.model_error import (
    EVAPORATION_FRACTION,
    HELD_FRACTIONS,
    SOURCE,
    holding,
)
from models.drying.surroundings import Surroundings, surroundings
from models.files.site_folder import read_site
from models.hydration import clock as hydration_clock
from models.records import (
    CoverProperties,
    DryingHistory,
    EventWindow,
    HydrationHistory,
    SiteInput,
    Spread,
    Surface,
)
from scheduler.methods.case.at_once import covered_at_once
from scheduler.methods.case.held import NOT_HELD, Held, held_mornings
from scheduler.methods.case.put_off import put_off
from scheduler.methods.surfaces import planning_grid, surfaces_of


@dataclass(frozen=True)
class Clocked:
    """A site folder with its surfaces and both of their clocks.

    ``held`` names the surfaces whose covers or forms have to stay on longer than asked.
    """

    site_input: SiteInput
    surfaces: tuple[Surface, ...]
    around: Surroundings
    hydration: HydrationHistory
    drying: DryingHistory
    held: Mapping[str, Held]


def run_clocks(folder: Path) -> Clocked:
    """Read a site folder and run both clocks of every surface.

    Parameters
    ----------
    folder : Path
        The site folder.

    Raises
    ------
    InputError
        With every problem of the folder.
    """
    site_input = read_site(folder)
    return clock(site_input, surfaces_of(site_input))


def clock(site_input: SiteInput, surfaces: tuple[Surface, ...]) -> Clocked:
    """Run both clocks of surfaces, which need not be those of the plan.

    Before, blankets go on at once where frost would come first, and forms and covers
    that would come off warm concrete in the cold are put off.
    """
    grid = planning_grid(site_input)
    around = surroundings(surfaces, site_input, grid)
    hydration = hydration_clock.run(surfaces, site_input, around, grid)
    warmed = covered_at_once(surfaces, hydration)
    if warmed != surfaces:
        surfaces = warmed
        hydration = hydration_clock.run(surfaces, site_input, around, grid)
    surfaces, later = put_off(site_input, surfaces, around, hydration)
    if later:
        hydration = hydration_clock.run(surfaces, site_input, around, grid)
    drying = drying_clock.run(surfaces, site_input, around, hydration)
    held = held_mornings(site_input, surfaces, around, hydration)
    for surface_id, off in later.items():
        held[surface_id] = replace(held.get(surface_id, NOT_HELD), put_off=off)
    return Clocked(site_input, surfaces, around, hydration, drying, held)


def dry_side(expected: Clocked) -> Clocked:
    """Run both clocks on the dry side of the forecast: warmer, windier, no rain.

    Surfaces and their events stay as the forecast itself has them: a warmer week would
    only let covers go on and come off sooner and curing end sooner, and that is not
    cautious.
    """
    return on_side(expected, cautious(expected.site_input))


def spread(expected: Clocked) -> Spread:
    """Run the early and the late drying clock of the forecast, and of the model."""
    forecast = (
        on_side(expected, shift(expected.site_input)).drying
        for shift in (cautious, lenient)
    )
    low, high = HELD_FRACTIONS
    model = (
        _as_if_off(expected, 1 + EVAPORATION_FRACTION, low),
        _as_if_off(expected, 1 - EVAPORATION_FRACTION, high),
    )
    return Spread(tuple(forecast), model, SOURCE)


def _as_if_off(expected: Clocked, evaporation: float, held: float) -> DryingHistory:
    """Run the drying clock with shares of its evaporation and of the water held.

    What the site says of its covers was weighed there and stays.
    """
    site_input = expected.site_input
    known = {c.kind for c in site_input.site.covers if c.held_l_m2 is not None}

    def off(cover: CoverProperties) -> CoverProperties:
        return cover if cover.kind in known else holding(cover, held)

    surfaces = [
        surface.model_copy(
            update={
                "cover": off(surface.cover),
                "later": tuple(
                    stage.model_copy(update={"cover": off(stage.cover)})
                    for stage in surface.later
                ),
            }
        )
        for surface in expected.surfaces
    ]
    return drying_clock.run(
        surfaces, site_input, expected.around, expected.hydration, evaporation
    )


def on_side(expected: Clocked, site_input: SiteInput) -> Clocked:
    """Run both clocks on shifted weather, surfaces and events as they were."""
    surfaces = expected.surfaces
    grid = expected.hydration.grid
    around = surroundings(surfaces, site_input, grid)
    hydration = replace(
        hydration_clock.run(surfaces, site_input, around, grid),
        events=expected.hydration.events,
    )
    drying = drying_clock.run(surfaces, site_input, around, hydration)
    return Clocked(
        expected.site_input, surfaces, around, hydration, drying, expected.held
    )


def ending(clocked: Clocked, ends_at: Mapping[str, datetime]) -> Clocked:
    """Put off ends of curing, by surface, for dry time that does not count."""
    if not ends_at:
        return clocked
    events = tuple(
        event.model_copy(update={"curing_ends": _at(ends_at[event.surface_id])})
        if event.surface_id in ends_at
        else event
        for event in clocked.hydration.events
    )
    return replace(clocked, hydration=replace(clocked.hydration, events=events))


def _at(instant: datetime) -> EventWindow:
    return EventWindow(earliest_at=instant, expected_at=instant, latest_at=instant)
