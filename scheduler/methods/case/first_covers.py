"""The cover a method puts on first, with the site's own figures where it has them."""

from models.drying.covers import cover_properties
from models.records import CoverKind, CoverProperties, MethodKey, Site

#: A pond and a timer's water come onto burlap; faces whose forms were left on get a
#: sheet over burlap when they are struck.
_FIRST: dict[MethodKey, CoverKind] = {
    "burlap_single": "burlap_single",
    "burlap_double": "burlap_double",
    "cotton_mats": "cotton_mats",
    "plastic_sheet": "plastic_sheet",
    "plastic_sheet_clear": "plastic_sheet_clear",
    "plastic_sheet_black": "plastic_sheet_black",
    "impervious_paper": "impervious_paper",
    "sheet_over_burlap": "sheet_over_burlap",
    "compound_clear": "compound_clear",
    "compound_white": "compound_white",
    "wet_sand": "wet_sand",
    "ponding": "burlap_single",
    "hand_sprinkling": "burlap_single",
    "sprinklers": "burlap_single",
    "soaker_under_sheet": "sheet_over_burlap",
    "insulated_blankets": "insulated_blankets",
    "live_steam": "steam_enclosure",
    "autoclave": "steam_enclosure",
    "forms_in_place": "sheet_over_burlap",
}


def first_cover(method: MethodKey, site: Site) -> CoverProperties:
    """Cover that a method puts on first."""
    return cover_of(_FIRST[method], site)


def cover_of(kind: CoverKind, site: Site) -> CoverProperties:
    """Cover of a kind; the site's stock may say what it holds."""
    cover = cover_properties(kind)
    for stock in site.covers:
        if stock.kind == kind and stock.held_l_m2 is not None:
            return cover.model_copy(update={"held_l_m2": stock.held_l_m2})
    return cover
