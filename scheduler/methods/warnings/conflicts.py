"""What stands against a method before anything is planned.

Hard conflicts only: where a method may not be used at all. What the weather or the
stock may yet change is warned of in ``requirements.py``.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from models.errors import Place, Problem
from models.records import MethodKey, Places, Pour, Profile, Surface
from scheduler.methods.case.cases import Cases
from scheduler.methods.case.method_table import Fits, methods
from scheduler.methods.case.protocol import Case
from scheduler.methods.chains.stages import stage_cases
from scheduler.methods.families.ponding import pond_load

#: What must hold on to the concrete under it.
_BONDS = ("topping", "paint", "tile", "membrane", "next_lift")
#: Finishes, as people write them, on which wrinkles of a sheet stay in view.
_IN_VIEW = ("coloured", "colored", "architectural")
_MOTTLING = "PCA, Design and Control of Concrete Mixtures (read)"
_FIELDS = {"top": "method", "edges": "edge_method", "formed": "formed_method"}


def conflicts(
    cases: Cases, surface: Surface, *, forecast: bool = True
) -> list[Problem]:
    """Refuse each method of a surface that cannot be used, and name the nearest.

    Parameters
    ----------
    forecast : bool
        Ask the clocks and the weather too; False where these are not to be trusted.
    """
    pour = next(p for p in cases.site_input.pours if p.id == surface.pour_id)
    asked = _Asked(pour, cases.site_input.places, forecast)
    return [*_of(cases.of(surface), asked)]


@dataclass(frozen=True)
class _Asked:
    """Who asks for the methods of a surface, and what may be held against them."""

    pour: Pour
    places: Places
    forecast: bool


def _of(case: Case, asked: _Asked) -> Iterator[Problem]:
    """Check each method of a surface once, in the order in which they follow."""
    before: MethodKey | None = None
    checked: set[MethodKey] = set()
    for one in stage_cases(case):
        method = one.surface.method
        wanted = _refusal(method, one, before, asked)
        if wanted and method not in checked:
            checked.add(method)
            place, field, hint = _where(one, asked)
            nearest = _nearest(one, before, asked)
            yield Problem(place, field, method, wanted, hint, nearest)
        before = method


def _where(case: Case, asked: _Asked) -> tuple[Place, str, str]:
    """Name the place, column and, where many share it, surface that has the method."""
    pour, places, method = asked.pour, asked.places, case.surface.method
    key = _FIELDS[case.surface.face]
    if case.stage and method == pour.then_method:
        key = "then_method"
    elif case.stage and method == case.rules.weekend_cover:
        place = places.of("rules", "", "weekend_cover")
        return place, "[rules] weekend_cover", f"For {case.surface.label}"
    return places.of("pours", pour.id, key), key, ""


def _refusal(
    method: MethodKey, case: Case, before: MethodKey | None, asked: _Asked
) -> str | None:
    """Return what a rule asks for instead, with its source; None if all allow it."""
    fits = methods()[method].fits
    rules = (
        *_of_the_method(method, fits, case),
        *_of_the_pour(method, fits, case, asked.pour),
        *_of_the_order(method, fits, case, before),
        *(_of_the_clocks(method, fits, case) if asked.forecast else ()),
    )
    return next(iter(rules), None)


def _of_the_method(method: MethodKey, fits: Fits, case: Case) -> Iterator[str]:
    """Yield what is wanted of any use, the rule's allowance, and skilled people."""
    if fits.never:
        yield f"{fits.never} ({fits.how}: {fits.source})"
    if not case.profile.allows(methods()[method].rule_kind):
        title, edition = case.profile.title, case.profile.edition
        yield f"a method that {title} allows: {_families(case.profile)} ({edition})"
    if case.gangs.largest(fits.skill) == 0:
        yield f"a crew with the skill '{fits.skill}' in site.toml, or another method"


def _families(profile: Profile) -> str:
    """Say which ways of curing a rule allows, in its own words."""
    allowed, banned = (
        ", ".join(families).replace("_", " ")
        for families in (profile.allowed_families, profile.banned_families)
    )
    but = f"no {banned}" if banned else ""
    return " but ".join(part for part in (allowed, but) if part)


def _of_the_pour(
    method: MethodKey, fits: Fits, case: Case, pour: Pour
) -> Iterator[str]:
    """Yield what is wanted to suit what was poured and what comes on it."""
    surface, source = case.surface, f"{fits.source} ({fits.how})"
    if surface.element not in fits.elements:
        yield f"a method for a {surface.element.replace('_', ' ')}: {source}"
    if surface.vertical and not fits.vertical:
        yield f"a method for upright faces: {source}"
    if surface.face == "top" and fits.in_forms:
        yield f"a method for a top: {source}"
    if surface.receives in _BONDS and not fits.under_bond:
        receives = surface.receives.replace("_", " ")
        yield f"a method under which a {receives} can bond: {source}"
    if fits.mottles and any(word in pour.finish.lower() for word in _IN_VIEW):
        yield f"a method that leaves no marks on a {pour.finish} finish: {_MOTTLING}"
    slope = case.table[method].by_name.get("max_slope")
    if slope and not surface.vertical and pour.slope_pct > slope.typical:
        yield (
            f"a method for a slope of {pour.slope_pct:g} %, this one ends at "
            f"{slope.typical:g} %: {slope.source} ({slope.how})"
        )
    carried = surface.element == "suspended_slab" and not pour.shoring_checked
    load = case.table[method].by_name.get("load_per_50mm")
    if load and carried:
        weight = pond_load(case, load.typical)
        yield (
            f"shoring_checked by a competent person for {weight} of water: "
            f"{load.source} ({load.how})"
        )


def _of_the_order(
    method: MethodKey, fits: Fits, case: Case, before: MethodKey | None
) -> Iterator[str]:
    """Yield what is wanted to follow the method before; rules on water on compound."""
    if before is None:
        return
    if fits.opens:
        yield f"a method that can follow another: {fits.source} ({fits.how})"
    if before in fits.not_after:
        yield f"a method that can follow {before}: {fits.not_after_why}"
    water = not methods()[method].is_film and case.surface.cover.rewettable
    if methods()[before].is_film and water and not case.profile.compound_before_water:
        title, edition = case.profile.title, case.profile.edition
        yield f"a method that {title} allows after compound ({edition})"


def _of_the_clocks(method: MethodKey, fits: Fits, case: Case) -> Iterator[str]:
    """Yield what is wanted of the concrete in time, and of frost on standing water."""
    own = method == case.surface.method
    first = case.stage is None and case.covered_from_min is None
    if own and first and case.surface.cover.form == "pond":
        # Its bridge would lie for a moment only.
        when = case.clock.words(case.ready_min)
        yield (
            f"a method for a surface that takes no cover before {when}, or a longer "
            "ponding.bridge in [rates]"
        )
    if fits.frost:
        return
    limit = case.table["all"].by_name["frost_from"]
    until_min = min(case.ends_min, case.horizon_min)
    for cold in case.colder_than(limit.typical):
        if cold.until_min > max(0, case.ready_min) and cold.from_min < until_min:
            when = case.clock.words(cold.from_min)
            yield (
                f"a method that stands frost, forecast from {when}, "
                "or a then_method after 'frost' "
                f"({method}: {fits.source}; {limit.source}; {limit.how})"
            )


def _nearest(case: Case, before: MethodKey | None, asked: _Asked) -> str:
    own = case.surface.method
    for method in (*methods()[own].fits.nearest, *methods()):
        if method != own and not _refusal(method, case, before, asked):
            return method
    return ""
