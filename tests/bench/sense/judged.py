"""All rules on one week, in the order in which they are told."""

from collections.abc import Callable, Sequence

from tests.bench.sense.coats_and_fog import fog_holes, second_coats
from tests.bench.sense.covers_there import (
    absent_covers,
    holds_before_stock,
    unseen_kits,
    unsoaked,
)
from tests.bench.sense.hours import idle_hours, long_hours, standing_by, walking
from tests.bench.sense.idle import idle_hands
from tests.bench.sense.leftover import Leftover
from tests.bench.sense.looks import looks_apart, looks_beside_wetting
from tests.bench.sense.missed import missed_beside_idle
from tests.bench.sense.promises import late_duties, start_by_off_shift
from tests.bench.sense.reasons import false_reasons
from tests.bench.sense.room import room_for_more
from tests.bench.sense.stock import covers_on_cured, other_kind_free
from tests.bench.sense.strips import strips
from tests.bench.sense.verdict import Verdict
from tests.bench.sense.week import Week
from tests.bench.sense.wettings import crumbs, needless, wetted_when_dry

_BEFORE: tuple[Callable[[Week], Verdict], ...] = (
    absent_covers, unseen_kits, unsoaked, holds_before_stock, looks_apart,
    looks_beside_wetting, needless, crumbs,
)  # fmt: skip
_AFTER: tuple[Callable[[Week], Verdict], ...] = (
    covers_on_cured, other_kind_free, second_coats, fog_holes, long_hours,
    start_by_off_shift, wetted_when_dry, late_duties, walking, idle_hours,
    missed_beside_idle, false_reasons, standing_by,
)  # fmt: skip


#: What the limit on dry time that idle hands could save is of; overtime and jobs that
#: are done in another way for it are told only.
_OF_IDLE = frozenset({"6a", "7a", "7b", "7c", "7d", "7e", "7f"})


def judged(week: Week) -> list[Verdict]:
    """Hold a week against every rule."""
    left = Leftover(week)
    hands = [*idle_hands(left), *room_for_more(left), strips(left)]
    return [
        *(rule(week) for rule in _BEFORE),
        *hands,
        _together([one for one in hands if one.rule in _OF_IDLE]),
        *(rule(week) for rule in _AFTER),
    ]


def _together(of: Sequence[Verdict]) -> Verdict:
    """6+7: little dry time could be saved by hands idle or at lesser work, in all."""
    return Verdict(
        "6+7", "6a and 7a to 7f together", (), sum(one.amount for one in of),
        of[0].whole, most=0.03,
    )  # fmt: skip
