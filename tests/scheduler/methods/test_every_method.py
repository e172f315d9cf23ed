"""Every method and every cover has all that the program will ask of it."""

import tomllib
from importlib.resources import files
from typing import get_args

import pytest
from pydantic import ValidationError

from models.drying.covers import cover_properties
from models.records import CoverKind, Element, MethodKey, Pour, SiteInput
from scheduler.methods.case.figures import raw_table
from scheduler.methods.case.method_table import Family, MethodFacts, methods
from scheduler.methods.chains.registry import FAMILIES, family_of
from scheduler.methods.surfaces import planning_grid, surfaces_of
from scheduler.methods.warnings.requirements import warnings_of
from tests.builders import pour, site_input
from tests.references.cover_table import cover_sources
from tests.scheduler.methods.methods_builders import (
    USABLE,
    drying,
    hour,
    hydration,
    operated,
    work_of,
)

METHODS: tuple[MethodKey, ...] = get_args(MethodKey)
KINDS: tuple[CoverKind, ...] = get_args(CoverKind)
#: Sections of the method table that are figures of no method.
SHARED = {"all", "fogging"}
#: Sections of the cover table that are no kind of cover.
NO_KINDS = {"source", "laps", "fabric", "burlap_dry_mass_g_m2", "range"}
#: A method on each element that it fits.
FITTING = [(m, element) for m in USABLE for element in methods()[m].fits.elements]


def poured(method: MethodKey, element: Element) -> Pour:
    """What can be cured so: a top, else faces that were in forms until hour 49."""
    if not methods()[method].fits.in_forms:
        return pour(method=method, element=element, shoring_checked=True)
    return pour(
        element=element, area_m2=20, formed_area_m2=60, strike_at=hour(49),
        formed_method=method,
    )  # fmt: skip


def warned(given: SiteInput) -> str:
    surfaces, grid = surfaces_of(given), planning_grid(given)
    clocks = hydration(surfaces, grid, curing_h=160), drying(surfaces, grid)
    return " ".join(f.words for f in warnings_of(given, surfaces, *clocks))


def test_the_method_table_has_the_keys_of_the_pours_and_no_other() -> None:
    assert set(raw_table()) - SHARED == set(METHODS) == set(methods())


def test_the_cover_table_has_the_kinds_of_the_records_and_no_other() -> None:
    text = files("models.drying").joinpath("covers.toml").read_text("utf-8")
    written = tomllib.loads(text)
    assert set(written) - NO_KINDS == set(KINDS)
    assert set(written["source"]) == set(KINDS)
    laid = {methods()[m].cover for m in METHODS}
    assert laid | {methods()[m].then_cover for m in METHODS} - {None} == set(KINDS)


def test_every_family_is_served_and_used() -> None:
    assert set(FAMILIES) == set(get_args(Family))
    assert {methods()[m].family for m in USABLE} == set(FAMILIES)


@pytest.mark.parametrize("method", METHODS)
def test_a_method_has_covers_that_are_known(method: MethodKey) -> None:
    of = methods()[method]
    for kind in (of.cover, *([of.then_cover] if of.then_cover else [])):
        assert cover_properties(kind).name
        assert cover_sources(kind)


@pytest.mark.parametrize("method", METHODS)
def test_a_method_names_others_to_try_and_says_why(method: MethodKey) -> None:
    fits = methods()[method].fits
    assert fits.nearest
    assert method not in (*fits.nearest, *fits.not_after)
    assert len(fits.source) >= 10
    assert bool(fits.not_after) == (len(fits.not_after_why) >= 10)


@pytest.mark.parametrize("method", METHODS)
def test_a_method_is_served_or_refused_on_every_site(method: MethodKey) -> None:
    if method in ("autoclave", "hand_sprinkling"):
        assert methods()[method].fits.never
        with pytest.raises(KeyError, match=f"{method} has no family"):
            family_of(method)
    else:
        assert family_of(method) is not None


@pytest.mark.parametrize("method", USABLE)
def test_what_dries_open_over_a_weekend_is_warned_of(method: MethodKey) -> None:
    """Nobody works from Saturday 06:00 to Monday: visits alone fill an open cover.

    Fabric and sand lie open to the air; a sheet keeps its water, a timer or a pond
    brings more, film, blankets and steam need none.
    """
    of = methods()[method]
    by_visits = of.family == "wet_covers"
    is_open = by_visits and cover_properties(of.cover).film_kg_m2_h_kpa is None
    element = of.fits.elements[0]
    words = warned(operated(site_input(poured(method, element))))
    name = cover_properties(of.cover).name
    assert (f"{name} unattended Sat" in words) == is_open


@pytest.mark.parametrize(("method", "element"), FITTING)
def test_a_method_has_every_figure_that_its_chain_and_its_warnings_ask_for(
    method: MethodKey, element: Element
) -> None:
    """A figure that is missing is a KeyError in the middle of a plan."""
    given = operated(site_input(poured(method, element)))
    (*_, surface) = work_of(given).surfaces
    assert surface.tasks
    warned(given)


def test_an_entry_without_a_family_says_why() -> None:
    whole = methods()["burlap_single"]
    with pytest.raises(ValidationError, match="either a family, or"):
        MethodFacts.model_validate(whole.model_dump() | {"family": None})


def test_a_misspelt_fact_is_refused() -> None:
    whole = methods()["burlap_single"]
    with pytest.raises(ValidationError, match="famly"):
        MethodFacts.model_validate(whole.model_dump() | {"famly": "wet_covers"})
