"""Temperatures outside their limits, in words: the one place that makes them.

Screen, board, sheets, phones and the page of the clocks all say what stands here, the
most dangerous first. The audit finds the breaches; nothing here judges a temperature.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import groupby
from typing import get_args

from exports.text import one_line
from models.local_clock import LocalClock, ShortTimes
from models.quantities import Instant, Units, show
from models.records import Breach, BreachKind, Finding, Record

HEADING = "Temperature outside its limit"
#: Stretches named one by one; of more the first ones and the end.
_MOST_SPANS = 3
#: A shorter one is a moment.
_MOMENT = timedelta(minutes=2)


@dataclass(frozen=True)
class _Words:
    """How a kind is told; ``{}`` is filled with its figures."""

    title: str
    shout: str
    limit: str
    worst: str
    do: str
    quantity: str = "temperature"
    is_least: bool = False


_COLD = "Blankets on before the cold comes, keep forms on, or heat"
#: Keys in the order of danger, which is that of ``BreachKind``.
_KINDS: dict[BreachKind, _Words] = {
    "freezes_before_set": _Words(
        "Freezes before it sets",
        "FREEZES BEFORE SET",
        "not below {limit} before that",
        "would set {sets}",
        "Do not place without heat: a heated enclosure, a warmer mix, blankets at "
        "once, or another day",
        is_least=True,
    ),
    "frost": _Words(
        "Frost on weak concrete",
        "FROST",
        "not below {limit} until it has {strength}",
        "{reach}, coldest {worst}",
        f"{_COLD}; the engineer decides what follows",
        is_least=True,
    ),
    "too_hot": _Words(
        "Too hot inside",
        "TOO HOT INSIDE",
        "at most {limit}",
        "{reach}, hottest {worst}",
        "Before placing: a cooler mix or a thinner lift. Once placed: do not chill the "
        "face, measure the core, ask the engineer",
    ),
    "core_to_face": _Words(
        "Core too warm for the face",
        "CORE TOO WARM",
        "at most {limit} warmer",
        "{reach} warmer, worst {worst}",
        "Keep blankets and forms on, add more, take nothing off; measure, ask the "
        "engineer",
        "temperature difference",
    ),
    "cooling": _Words(
        "Cools too fast",
        "COOLS TOO FAST",
        "at most {limit} in {within}",
        "by {value}, from {worst}",
        "Leave blankets and forms on longer, or take them off in steps at the warmest "
        "hour; ask the engineer",
        "temperature difference",
    ),
    "above_air": _Words(
        "Uncovered too warm for the air",
        "UNCOVERED TOO WARM",
        "at most {limit} above the air",
        "{value} above it",
        "Measure first; leave it on until face and air are closer",
        "temperature difference",
    ),
    "steam_before_set": _Words(
        "Steam before it sets",
        "STEAM BEFORE SET",
        "not before final set",
        "would set {sets}",
        "Start the steam later",
    ),
    "too_cold": _Words(
        "Concrete too cold",
        "TOO COLD",
        "at least {limit}",
        "{reach}, coldest {worst}",
        _COLD,
        is_least=True,
    ),
}
_ALREADY_PLACED = "Warm it now and have the engineer examine it"
_RANK = {kind: rank for rank, kind in enumerate(get_args(BreachKind))}


class Span(Record):
    """A stretch of time."""

    starts_at: Instant
    ends_at: Instant


class Breached(Record):
    """A surface outside one limit, in all stretches that are asked for.

    Attributes
    ----------
    title, shout : str
        What happens, for a text and for a title on a phone.
    rule : str
        The limit and who sets it.
    worst : str
        How far it goes, and when.
    do : str
        What a site can do; it ends with a stop.
    when : str
        The stretches.
    worst_breach : Breach
        The figures behind ``worst``.
    """

    kind: BreachKind
    surface_id: str
    label: str
    title: str
    shout: str
    rule: str
    worst: str
    do: str
    when: str
    spans: tuple[Span, ...]
    worst_breach: Breach

    @property
    def heading(self) -> str:
        """What happens and what is allowed."""
        return f"{self.title}: {self.rule}"

    @property
    def line(self) -> str:
        """Where, when and how far; the heading stands above it."""
        return f"{self.label}: {self.when}; {self.worst}"

    @property
    def sentence(self) -> str:
        """All of it but the surface."""
        return f"{self.title} {self.when}: {self.worst}; {self.rule}. {self.do}"

    @property
    def ends_at(self) -> datetime:
        """End of the last stretch."""
        return self.spans[-1].ends_at


class Group(Record):
    """Surfaces outside the same limit, to whom the same is to be done."""

    heading: str
    do: str
    breached: tuple[Breached, ...]

    @property
    def count(self) -> int:
        """How many surfaces."""
        return len(self.breached)

    @property
    def lines(self) -> tuple[str, ...]:
        """A line a surface."""
        return tuple(one.line for one in self.breached)


def breached(
    findings: Iterable[Finding],
    labels: Mapping[str, str],
    clock: LocalClock,
    units: Units,
    times: ShortTimes | None = None,
    starts_at: datetime | None = None,
    ends_at: datetime | None = None,
) -> tuple[Breached, ...]:
    """Put breaches into words, one a surface and limit, the most dangerous first.

    Parameters
    ----------
    findings : iterable of Finding
        Of any kind; those without a breach are left out.
    labels : mapping
        Name of each surface by its id.
    clock, units
        Of the site.
    times : ShortTimes or None
        Of a list that has said its day and zone; without it each surface says them.
    starts_at, ends_at : datetime or None
        Only what touches the time between, cut to it.
    """
    cut = [
        (finding, span)
        for finding in findings
        if finding.breach is not None
        and (span := _cut(finding, starts_at, ends_at)) is not None
    ]
    cut.sort(key=lambda pair: (_key(pair[0]), pair[1].starts_at))
    made = [
        _breached(
            [f for f, _ in group], [s for _, s in group], labels, clock, times, units
        )
        for group in (list(g) for _, g in groupby(cut, key=lambda pair: _key(pair[0])))
    ]
    return tuple(
        sorted(made, key=lambda b: (_RANK[b.kind], b.spans[0].starts_at, b.label))
    )


def groups(all_breached: Sequence[Breached]) -> tuple[Group, ...]:
    """Say once what several surfaces share; order is kept."""
    found: dict[tuple[str, str], list[Breached]] = {}
    for one in all_breached:
        found.setdefault((one.heading, one.do), []).append(one)
    return tuple(
        Group(heading=heading, do=do, breached=tuple(members))
        for (heading, do), members in found.items()
    )


def surfaces_outside(findings: Iterable[Finding]) -> int:
    """Count the surfaces that leave a limit."""
    return len({f.surface_id for f in findings if f.breach is not None})


def outside_words(count: int) -> str:
    """``temperature outside its limit on 3 surfaces``; empty for none."""
    if not count:
        return ""
    return f"temperature outside its limit on {count} surface{'s'[: count != 1]}"


def _key(finding: Finding) -> tuple[str, ...]:
    """Tell one limit of one surface from all others, in an order of no meaning."""
    assert finding.breach is not None
    breach = finding.breach
    facts = (breach.kind, breach.limit, breach.clause, breach.within_h)
    return (finding.surface_id or "", *(str(fact) for fact in facts))


def _cut(
    finding: Finding, starts_at: datetime | None, ends_at: datetime | None
) -> Span | None:
    first, last = finding.starts_at, finding.ends_at
    if (ends_at is not None and first >= ends_at) or (
        starts_at is not None and last <= starts_at
    ):
        return None
    return Span(
        starts_at=max(first, starts_at) if starts_at else first,
        ends_at=min(last, ends_at) if ends_at else last,
    )


def _breached(
    findings: list[Finding],
    spans: list[Span],
    labels: Mapping[str, str],
    clock: LocalClock,
    times: ShortTimes | None,
    units: Units,
) -> Breached:
    found = [finding.breach for finding in findings if finding.breach is not None]
    words = _KINDS[found[0].kind]

    def badness(breach: Breach) -> float:
        value = breach.value or 0.0
        return -value if words.is_least else value

    worst = max(found, key=badness)
    surface_id = findings[0].surface_id or ""
    joined = _joined(spans)
    short = times or ShortTimes(clock, joined[0].starts_at, joined[-1].ends_at)
    said = _said(worst, words, short, units)
    clause = f" ({one_line(worst.clause)})" if worst.clause else ""
    lost = worst.kind == "freezes_before_set" and worst.placed
    return Breached(
        kind=worst.kind,
        surface_id=surface_id,
        label=one_line(labels.get(surface_id, surface_id)),
        title=words.title,
        shout=words.shout,
        rule=words.limit.format(**said) + clause,
        worst=words.worst.format(**said),
        do=f"{_ALREADY_PLACED if lost else words.do}.",
        when=_when(joined, times or clock, short),
        spans=joined,
        worst_breach=worst,
    )


def _said(
    breach: Breach, words: _Words, times: ShortTimes, units: Units
) -> dict[str, str]:
    """Give every figure of a breach as people read it."""
    said = {"worst": times.day_time(breach.worst_at)}
    if breach.limit is not None:
        exact = show(f"exact {words.quantity}", breach.limit, units)
        said["limit"] = exact.replace(".0 ", " ")
        if breach.value is not None:
            whole = said["limit"] != exact or "." not in exact
            kind = words.quantity if whole else f"exact {words.quantity}"
            value = show(kind, breach.value, units)
            far, just = (
                ("down to", "just below") if words.is_least else ("up to", "just over")
            )
            near = value == said["limit"]
            said["value"] = f"{just} {value}" if near else value
            said["reach"] = f"{just if near else far} {value}"
    if breach.strength_mpa is not None:
        said["strength"] = show("pressure", breach.strength_mpa, units)
    if breach.within_h is not None:
        said["within"] = f"{breach.within_h} h"
    if breach.sets_at is not None:
        said["sets"] = times.day_time(breach.sets_at)
    return said


def _joined(spans: list[Span]) -> tuple[Span, ...]:
    """Join stretches that overlap or follow one another; they come in order."""
    joined: list[Span] = []
    for span in spans:
        if joined and span.starts_at <= joined[-1].ends_at:
            ends_at = max(span.ends_at, joined[-1].ends_at)
            joined[-1] = Span(starts_at=joined[-1].starts_at, ends_at=ends_at)
        else:
            joined.append(span)
    return tuple(joined)


def _when(
    spans: Sequence[Span], first: LocalClock | ShortTimes, times: ShortTimes
) -> str:
    """Say stretches, the first of them so that nothing else has to be known."""
    said = [
        words.day_time(span.starts_at)
        if span.ends_at - span.starts_at < _MOMENT
        else words.span(span.starts_at, span.ends_at)
        for words, span in zip([first, *[times] * (len(spans) - 1)], spans, strict=True)
    ]
    if len(said) <= _MOST_SPANS:
        return ", ".join(said)
    last = times.day_time(spans[-1].ends_at)
    return f"{', '.join(said[:2])} and {len(said) - 2} more times until {last}"
