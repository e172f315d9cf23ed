"""Which families there are, and what is planned of a surface before its clocks run."""

from collections.abc import Mapping

from models.records import MethodKey, Pour, SiteInput, Surface
from scheduler.methods.case.method_table import Family, methods
from scheduler.methods.case.protocol import Method, Planned
from scheduler.methods.chains.planned_changes import then, weekend_cover
from scheduler.methods.families.blankets import Blankets
from scheduler.methods.families.compound import Compound
from scheduler.methods.families.fogging import Fogging
from scheduler.methods.families.forms_in_place import FormsInPlace
from scheduler.methods.families.ponding import Ponding, bridged
from scheduler.methods.families.sheeting import Sheeting
from scheduler.methods.families.soaker import Soaker
from scheduler.methods.families.sprinkling import Sprinkling
from scheduler.methods.families.steam import LiveSteam, steamed
from scheduler.methods.families.wet_covers import WetCovers

FAMILIES: Mapping[Family, Method] = {
    "wet_covers": WetCovers(),
    "sheeting": Sheeting(),
    "compound": Compound(),
    "ponding": Ponding(),
    "sprinkling": Sprinkling(),
    "soaker": Soaker(),
    "blankets": Blankets(),
    "steam": LiveSteam(),
    "forms": FormsInPlace(),
}
#: Initial protection, whatever comes after it.
FOGGING: Method = Fogging()
#: Families that change the cover by themselves, or heat the surface.
_PLANNED_BY: Mapping[Family, Planned] = {"ponding": bridged, "steam": steamed}


def family_of(method: MethodKey) -> Method:
    """Give the chain of a method.

    Raises
    ------
    KeyError
        For a method that is refused on every site; the method table says why.
    """
    family = methods()[method].family
    if family is None:
        raise KeyError(f"{method} has no family in the method table")
    return FAMILIES[family]


def planned(surface: Surface, pour: Pour, site_input: SiteInput) -> Surface:
    """Plan what is known beforehand: the method's own stages, then the pour's.

    The site's weekend cover comes last, where a cover lies open that would dry out.
    """
    family = methods()[surface.method].family
    own = _PLANNED_BY.get(family) if family else None
    for plan in (*((own,) if own else ()), then, weekend_cover):
        surface = plan(surface, pour, site_input)
    return surface
