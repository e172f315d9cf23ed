"""What is tried of a surface: each method there is, as a plan would have it."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import get_args

from models.local_clock import WeekClock
from models.records import MethodKey, SiteInput, Surface
from scheduler.methods.surfaces import surfaces_of

#: The column of a pour that names the method of a face.
_FIELDS = {"top": "method", "edges": "edge_method", "formed": "formed_method"}


@dataclass(frozen=True)
class Versions:
    """A surface under every method that is to be tried.

    Attributes
    ----------
    tried : tuple of tuple of Surface
        For each method what to try of it, in turn until one may be used.
    settled : str
        Why nothing is left to choose; empty where the choice is open.
    """

    surface: Surface
    tried: tuple[tuple[Surface, ...], ...]
    settled: str


def versions_of(site_input: SiteInput, surface: Surface) -> Versions:
    """Put a surface under each method there is.

    A surface that is already covered keeps its cover: to change it would be another
    job, of lifting and laying again.
    """
    horizon = site_input.horizon
    settled = ""
    methods: Sequence[MethodKey] = get_args(MethodKey)
    if surface.exposed_at >= horizon.ends_at:
        settled = "exposed only after the plan ends; nothing to judge yet"
        methods = ()
    elif surface.covered_at is not None:
        clock = WeekClock(site_input.site.timezone, horizon)
        since = clock.words(horizon.minute(surface.covered_at))
        settled = f"under its cover since {since}, so only that method is judged"
        methods = (surface.method,)
    tried = tuple(_under(site_input, surface, method) for method in methods)
    return Versions(surface, tried, settled)


def _under(
    site_input: SiteInput, surface: Surface, method: MethodKey
) -> tuple[Surface, ...]:
    """Give the surface under a method, under another than planned with a new id.

    What the pour plans after its own method belongs to that; after another it is tried
    only where that one may not be used alone, as sprinklers before frost.
    """
    if method == surface.method:
        return (surface,)
    pour = next(pour for pour in site_input.pours if pour.id == surface.pour_id)
    one = site_input.model_copy(update={"pours": (pour,)})
    name = f"{surface.id} under {method}"
    alone = _of(with_method(one, surface, method, then=False), surface, name)
    if surface.face != "top" or pour.then_method is None:
        return (alone,)
    name = f"{name}, then {pour.then_method}"
    return (alone, _of(with_method(one, surface, method, then=True), surface, name))


def _of(site_input: SiteInput, surface: Surface, name: str) -> Surface:
    others = surfaces_of(site_input)
    same = next(other for other in others if other.id == surface.id)
    return same.model_copy(update={"id": name})


def with_method(
    site_input: SiteInput, surface: Surface, method: MethodKey, *, then: bool
) -> SiteInput:
    """Give the site with another method on one surface.

    Parameters
    ----------
    then : bool
        The pour keeps the method that it plans after the first of its top.
    """
    update: dict[str, object] = {_FIELDS[surface.face]: method}
    if surface.face == "top" and not then:
        update |= {"then_method": None, "then_after": None}
    pours = tuple(
        pour.model_copy(update=update) if pour.id == surface.pour_id else pour
        for pour in site_input.pours
    )
    return site_input.model_copy(update={"pours": pours})
