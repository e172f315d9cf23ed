"""What each kind of breach is called, and what a site does about it.

One short sentence of the trade; what follows for the structure is the engineer's.
"""

from dataclasses import dataclass

from models.records import BreachKind


@dataclass(frozen=True)
class Words:
    """How a kind is told; ``{}`` is filled with its figures."""

    title: str
    shout: str
    limit: str
    worst: str
    do: str
    quantity: str = "temperature"
    is_least: bool = False


ONCE_PLACED = "Once placed: warm it now, and have the engineer examine what froze"
_COLD = "Blankets on before the cold comes, keep forms on, or heat"
#: Keys in the order of danger, which is that of ``BreachKind``.
KINDS: dict[BreachKind, Words] = {
    "freezes_before_set": Words(
        "Freezes before it sets",
        "FREEZES BEFORE SET",
        "not below {limit} before that",
        "would set {sets}",
        "Do not place without heat: a heated enclosure, a warmer mix, blankets at "
        f"once, or another day. {ONCE_PLACED}",
        is_least=True,
    ),
    "frost": Words(
        "Frost on weak concrete",
        "FROST",
        "not below {limit} until it has {strength}",
        "{reach}, coldest {worst}",
        f"{_COLD}; the engineer decides what follows",
        is_least=True,
    ),
    "too_hot": Words(
        "Too hot inside",
        "TOO HOT INSIDE",
        "at most {limit}",
        "{reach}, hottest {worst}",
        "Before placing: a cooler mix or a thinner lift. Once placed: do not chill the "
        "face, measure the core, ask the engineer",
    ),
    "core_to_face": Words(
        "Core too warm for the face",
        "CORE TOO WARM",
        "at most {limit} warmer",
        "{reach} warmer, worst {worst}",
        "Keep blankets and forms on, add more, take nothing off; measure, ask the "
        "engineer",
        "temperature difference",
    ),
    "cooling": Words(
        "Cools too fast",
        "COOLS TOO FAST",
        "at most {limit} in {within}",
        "by {value}, from {worst}",
        "Leave blankets and forms on longer, or take them off in steps at the warmest "
        "hour; ask the engineer",
        "temperature difference",
    ),
    "above_air": Words(
        "Uncovered too warm for the air",
        "UNCOVERED TOO WARM",
        "at most {limit} above the air",
        "{value} above it",
        "Measure first; leave it on until face and air are closer",
        "temperature difference",
    ),
    "steam_before_set": Words(
        "Steam before it sets",
        "STEAM BEFORE SET",
        "not before final set",
        "would set {sets}",
        "Start the steam later",
    ),
    "too_cold": Words(
        "Concrete too cold",
        "TOO COLD",
        "at least {limit}",
        "{reach}, coldest {worst}",
        _COLD,
        is_least=True,
    ),
}
