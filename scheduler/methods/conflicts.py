"""What stands against a method before anything is planned.

Hard conflicts only: where a method may not be used at all. What the weather or the
stock may yet change is warned of in ``requirements.py``.
"""

from collections.abc import Mapping
from typing import get_args

from models.errors import Problem
from models.records import MethodKey, Pour, SiteInput, Skill, Surface
from scheduler.methods.figures import Figures

#: What must hold on to the concrete under it.
_BONDS = ("topping", "paint", "tile", "membrane", "next_lift")


def conflicts(
    site_input: SiteInput,
    surfaces: tuple[Surface, ...],
    table: Mapping[str, Figures],
) -> list[Problem]:
    """Every surface whose method cannot be used, with the nearest that can."""
    pours = {pour.id: pour for pour in site_input.pours}
    problems = []
    for surface in surfaces:
        pour = pours[surface.pour_id]
        refusal = _refusal(surface.method, surface, pour, site_input, table)
        if refusal:
            field = "method" if surface.face == "top" else "formed_method"
            hint = _nearest(surface, pour, site_input, table)
            place = f"pours, {surface.pour_id}"
            problems.append(Problem(place, field, surface.method, refusal, hint))
    return problems


def _refusal(
    method: MethodKey,
    surface: Surface,
    pour: Pour,
    site_input: SiteInput,
    table: Mapping[str, Figures],
) -> str | None:
    """Return the rule that forbids a method and its source; None if none does."""
    figures = table[method]
    fits = figures.fits
    if fits is None:
        raise KeyError(f"{method} has no [fits] in the method table")
    source = f"{fits.source} ({fits.how})"
    profile = site_input.profiles[surface.profile_id]
    if method in profile.banned_methods:
        return f"a method that {profile.title} allows ({profile.edition})"
    if surface.element not in fits.elements:
        return f"a method for a {surface.element.replace('_', ' ')}: {source}"
    if surface.vertical and not fits.vertical:
        return f"a method for upright faces: {source}"
    if surface.receives in _BONDS and not fits.under_bond:
        receives = surface.receives.replace("_", " ")
        return f"a method under which a {receives} can bond: {source}"
    if "max_slope" in figures and not surface.vertical:
        slope = figures.by_name["max_slope"]
        if pour.slope_pct > slope.typical:
            return (
                f"a method for a slope of {pour.slope_pct:g} %, this one ends at "
                f"{slope.typical:g} %: {slope.source} ({slope.how})"
            )
    skill = _skill(method)
    if not any(skill in crew.skills for crew in site_input.site.crews):
        return f"a crew with the skill '{skill}' in site.toml, or another method"
    return None


def _skill(method: MethodKey) -> Skill:
    return "sprayer" if method.startswith("compound") else "labourer"


def _nearest(
    surface: Surface,
    pour: Pour,
    site_input: SiteInput,
    table: Mapping[str, Figures],
) -> str:
    fits = table[surface.method].fits
    order = (*(fits.nearest if fits else ()), *get_args(MethodKey))
    for method in order:
        if method != surface.method and not _refusal(
            method, surface, pour, site_input, table
        ):
            return f"Nearest: {method}"
    return ""
