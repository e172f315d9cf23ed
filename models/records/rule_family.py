"""What rules call the ways of curing: by kind, and by what several of them share.

A rule that names kinds misses none that is added later, nor its other colours.
"""

from collections.abc import Collection
from typing import Literal, get_args

from models.records.pour import MethodKey

RuleKind = Literal[
    "ponding",
    "sprinkling",
    "open_fabric",
    "covered_fabric",
    "sand",
    "sheet",
    "compound",
    "forms",
    "insulated",
    "steam",
]
#: A kind, or a group of them: damp fabric with or without a sheet over it, ways that
#: add water, and ways that only keep it in.
RuleFamily = Literal[RuleKind, "fabric", "wet", "sealed"]

_GROUPS: dict[RuleFamily, tuple[RuleKind, ...]] = {
    "fabric": ("open_fabric", "covered_fabric"),
    "wet": ("ponding", "sprinkling", "open_fabric", "covered_fabric", "sand"),
    "sealed": ("sheet", "compound", "forms"),
}
_KINDS: dict[MethodKey, RuleKind] = {
    "burlap_single": "open_fabric",
    "burlap_double": "open_fabric",
    "cotton_mats": "open_fabric",
    "sheet_over_burlap": "covered_fabric",
    "soaker_under_sheet": "covered_fabric",
    "plastic_sheet": "sheet",
    "plastic_sheet_clear": "sheet",
    "plastic_sheet_black": "sheet",
    "impervious_paper": "sheet",
    "compound_clear": "compound",
    "compound_white": "compound",
    "wet_sand": "sand",
    "ponding": "ponding",
    "hand_sprinkling": "sprinkling",
    "sprinklers": "sprinkling",
    "insulated_blankets": "insulated",
    "live_steam": "steam",
    "autoclave": "steam",
    "forms_in_place": "forms",
}


def kinds_of(families: Collection[RuleFamily]) -> frozenset[RuleKind]:
    """Kinds that some families stand for."""
    groups = (kind for name in families for kind in _GROUPS.get(name, ()))
    return frozenset(groups) | {k for k in get_args(RuleKind) if k in families}


def kinds_allowed(
    allowed: Collection[RuleFamily], banned: Collection[RuleFamily]
) -> frozenset[RuleKind]:
    """Kinds that a rule leaves: those it names as the only ones, less what it bans."""
    every: frozenset[RuleKind] = frozenset(get_args(RuleKind))
    return (kinds_of(allowed) if allowed else every) - kinds_of(banned)


def kind_of(method: MethodKey) -> RuleKind:
    """Kind of a method."""
    return _KINDS[method]
