"""Which family serves which method."""

from collections.abc import Mapping

from models.records import MethodKey
from scheduler.methods.compound import Compound
from scheduler.methods.fogging import Fogging
from scheduler.methods.protocol import Method, Planned
from scheduler.methods.sheeting import Sheeting
from scheduler.methods.wet_covers import WetCovers

METHODS: Mapping[MethodKey, Method] = {
    "burlap_single": WetCovers(),
    "burlap_double": WetCovers(),
    "cotton_mats": WetCovers(),
    "plastic_sheet": Sheeting(),
    "sheet_over_burlap": Sheeting(),
    "compound_clear": Compound(),
    "compound_white": Compound(),
}
#: Initial protection, whatever comes after it.
FOGGING: Method = Fogging()
#: What is planned of a surface before its clocks run, one after the other.
PLANNED: tuple[Planned, ...] = ()
