"""Temperatures outside their limits, in words: the one place that makes them.

Screen, board, sheets, phones and the page of the clocks all say what stands here, the
most dangerous first. The audit finds the breaches; nothing here judges a temperature.
"""

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime, timedelta
from itertools import groupby
from typing import get_args

from exports.breach_kinds import KINDS, ONCE_PLACED, Words
from exports.text import one_line
from models.local_clock import LocalClock, ShortTimes
from models.quantities import Instant, Units, show
from models.records import Breach, BreachKind, Finding, Record

HEADING = "Temperature outside its limit"
#: Stretches named one by one; of more the first ones and the end.
_MOST_SPANS = 3
#: A shorter one is a moment.
_MOMENT = timedelta(minutes=2)
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
    from_at: datetime,
    until_at: datetime | None = None,
    times: ShortTimes | None = None,
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
    from_at, until_at : datetime, datetime or None
        Only what touches the time between, cut to it; what is placed by ``from_at``
        can no longer be left unplaced.
    times : ShortTimes or None
        Of a list that has said its day and zone; without it each surface says them.
    """
    cut = [
        (finding, span)
        for finding in findings
        if finding.breach is not None
        and (span := _cut(finding, from_at, until_at)) is not None
    ]
    cut.sort(key=lambda pair: (_key(pair[0]), pair[1].starts_at))
    made = [
        _breached(group, labels, clock, times, units, from_at)
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


def _cut(finding: Finding, from_at: datetime, until_at: datetime | None) -> Span | None:
    first, last = finding.starts_at, finding.ends_at
    if last <= from_at or (until_at is not None and first >= until_at):
        return None
    return Span(
        starts_at=max(first, from_at),
        ends_at=min(last, until_at) if until_at else last,
    )


def _breached(
    cut: list[tuple[Finding, Span]],
    labels: Mapping[str, str],
    clock: LocalClock,
    times: ShortTimes | None,
    units: Units,
    from_at: datetime,
) -> Breached:
    found = [finding.breach for finding, _ in cut if finding.breach is not None]
    words = KINDS[found[0].kind]

    def badness(breach: Breach) -> float:
        value = breach.value or 0.0
        return -value if words.is_least else value

    worst = max(found, key=badness)
    surface_id = cut[0][0].surface_id or ""
    joined = _joined([span for _, span in cut])
    short = times or ShortTimes(clock, joined[0].starts_at, joined[-1].ends_at)
    said = _said(worst, words, short, units)
    clause = f" ({one_line(worst.clause)})" if worst.clause else ""
    placed_at = worst.placing_ends_at
    placed = placed_at is not None and placed_at <= from_at
    return Breached(
        kind=worst.kind,
        surface_id=surface_id,
        label=one_line(labels.get(surface_id, surface_id)),
        title=words.title,
        shout=words.shout,
        rule=words.limit.format(**said) + clause,
        worst=words.worst.format(**said),
        do=f"{ONCE_PLACED if placed else words.do}.",
        when=_when(joined, times or clock, short),
        spans=joined,
        worst_breach=worst,
    )


def _said(
    breach: Breach, words: Words, times: ShortTimes, units: Units
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
