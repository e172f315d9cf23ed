"""Which family serves which method."""

from collections.abc import Mapping

from models.records import MethodKey
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

#: A method that is missing here is refused on every site; the table says why.
METHODS: Mapping[MethodKey, Method] = {
    "burlap_single": WetCovers(),
    "burlap_double": WetCovers(),
    "cotton_mats": WetCovers(),
    "wet_sand": WetCovers(),
    "plastic_sheet": Sheeting(),
    "plastic_sheet_clear": Sheeting(),
    "plastic_sheet_black": Sheeting(),
    "impervious_paper": Sheeting(),
    "sheet_over_burlap": Sheeting(),
    "compound_clear": Compound(),
    "compound_white": Compound(),
    "ponding": Ponding(),
    "sprinklers": Sprinkling(),
    "soaker_under_sheet": Soaker(),
    "insulated_blankets": Blankets(),
    "live_steam": LiveSteam(),
    "forms_in_place": FormsInPlace(),
}
#: Initial protection, whatever comes after it.
FOGGING: Method = Fogging()
#: What is planned of a surface before its clocks run, one after the other.
PLANNED: tuple[Planned, ...] = (bridged, steamed, then, weekend_cover)
