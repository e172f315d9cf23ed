"""What rules call the ways of curing: by kind, and by what several of them share.

A rule that names kinds misses none that is added later, nor its other colours. Of which
kind a method is stands with the method, in ``scheduler/methods/case/methods.toml``.
"""

from collections.abc import Collection
from typing import Literal, get_args

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
