"""A gap cut into stretches, each with what stood in the way all through it.

Minutes with the same limits stay together. So do those that have one limit in common:
that one alone kept everybody away, whatever else there was. What is left over for a few
minutes, a walk or a short errand, goes with its neighbour, unless that one claims
something of every minute that would then not be true.
"""

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from typing import NamedTuple

from models.records import Limit
from scheduler.solver.explain.trials import LIMITS, Trial

#: All three mean that no crew has the time.
_NO_TIME: dict[Limit, Limit] = {"travel": "crews_busy", "shift_ends": "crews_busy"}
#: They keep everybody from any work.
_FROM_ANY_WORK: frozenset[Limit] = frozenset({"no_crew_on_shift", "heat_ban"})
#: What is said of every minute of a stretch; nothing else may be taken in.
STRICT: frozenset[Limit] = frozenset({"no_crew_on_shift", "no_skill"})
_SHORT_MIN, _SHORT_PART = 15, 0.25


class Tried(NamedTuple):
    """A trial that speaks for the minutes from one up to another."""

    first: int
    until: int
    trial: Trial

    @property
    def minutes(self) -> int:
        """How many they are."""
        return self.until - self.first


class GapStretch(NamedTuple):
    """A part of a gap and the limits that all its trials have in common."""

    limits: frozenset[Limit]
    tried: tuple[Tried, ...]

    @property
    def first(self) -> int:
        """First minute."""
        return self.tried[0].first

    @property
    def until(self) -> int:
        """Minute after the last."""
        return self.tried[-1].until

    @property
    def minutes(self) -> int:
        """Length."""
        return self.until - self.first

    @property
    def waits(self) -> bool:
        """Whether all of it is about work that other work waits for."""
        return all(one.trial.first is one.trial.job for one in self.tried)

    @property
    def telling(self) -> tuple[Trial, ...]:
        """The trials that met these limits and no others; all, if each met more."""
        exact = [one.trial for one in self.tried if _grouped(one.trial) == self.limits]
        return tuple(exact or [one.trial for one in self.tried])

    def named(self) -> tuple[Limit, ...]:
        """Name the limits as most of its minutes met them, in order."""
        minutes: Counter[Limit] = Counter()
        for one in self.tried:
            for limit in one.trial.limits:
                minutes[limit] += one.minutes
        found = {
            max(
                (each for each in minutes if _NO_TIME.get(each, each) == limit),
                key=lambda each: (minutes[each], -LIMITS.index(each)),
            )
            for limit in self.limits
        }
        return tuple(limit for limit in LIMITS if limit in found)


def stretches_of(tried: Sequence[Tried]) -> list[GapStretch]:
    """Cut what was tried minute by minute, in order; holes stay."""
    parts = [GapStretch(_grouped(one.trial), (one,)) for one in tried]
    parts = _without_short_ones(list(_joined(parts, _same)))
    return _without_short_ones(list(_joined(parts, _common)))


def _grouped(trial: Trial) -> frozenset[Limit]:
    return frozenset(_NO_TIME.get(limit, limit) for limit in trial.limits)


def _about(one: GapStretch) -> tuple[int, int]:
    """Say which work it is that could not be done, and what waits for it."""
    trial = one.tried[0].trial
    return trial.job.index, -1 if trial.first is None else trial.first.index


def _same(one: GapStretch, other: GapStretch) -> frozenset[Limit]:
    return one.limits if one.limits == other.limits else frozenset()


def _common(one: GapStretch, other: GapStretch) -> frozenset[Limit]:
    return one.limits & other.limits


def _joined(
    parts: Sequence[GapStretch],
    limits: Callable[[GapStretch, GapStretch], frozenset[Limit]],
) -> Iterator[GapStretch]:
    """Join neighbours about the same work as long as limits hold in all of them."""
    now = parts[0]
    for part in parts[1:]:
        both = limits(now, part) if now.until == part.first else frozenset()
        if both and (_about(now) == _about(part) or both <= _FROM_ANY_WORK):
            now = GapStretch(both, now.tried + part.tried)
        else:
            yield now
            now = part
    yield now


def _without_short_ones(parts: list[GapStretch]) -> list[GapStretch]:
    """Give short stretches to the longer of their neighbours that may take them in."""
    most = min(_SHORT_MIN, _SHORT_PART * sum(part.minutes for part in parts))
    while len(parts) > 1:
        short = sorted(
            (part.minutes, at)
            for at, part in enumerate(parts)
            if part.minutes < most and "unplanned" not in part.limits
        )
        for _, at in short:
            takers = [
                i
                for i in (at - 1, at + 1)
                if 0 <= i < len(parts)
                and parts[i].limits & STRICT <= parts[at].limits
                and parts[min(i, at)].until == parts[max(i, at)].first
            ]
            if takers:
                taker = max(takers, key=lambda i: (parts[i].minutes, -i))
                low, high = sorted((at, taker))
                tried = parts[low].tried + parts[high].tried
                parts[low : high + 1] = [GapStretch(parts[taker].limits, tried)]
                break
        else:
            return parts
    return parts
