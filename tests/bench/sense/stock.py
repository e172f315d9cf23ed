"""Rules 8 and 8b, and what others ask of the stock: covers where they help nobody."""

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from models.records import CoverNeed
from tests.bench.sense.verdict import Case, Verdict
from tests.bench.sense.week import Week

_NEVER = 1 << 40
_CURED_FOR_MIN = 240
_STEP_MIN = 10
_SLACK_M2 = 1e-6
_SOAK_MIN = 720  # of a kind whose own lead is not known here
#: Wet covers that may stand in for one another where the specification lets them.
_WET = (
    "burlap_double", "sheet_over_burlap", "cotton_mats", "burlap_single",
    "plastic_sheet",
)  # fmt: skip


@dataclass(frozen=True)
class Held:
    """Covers that a surface has from the stock, and from when they lie there.

    They may go to others from ``may_go_min`` on: what must stay on for the cold is not
    lifted at all.
    """

    surface_id: str
    kind: str
    area_m2: float
    from_min: int
    until_min: int
    lies_min: int
    may_go_min: int


class Stock:
    """What lies where, as the roster has it."""

    def __init__(self, week: Week) -> None:
        self.week = week
        self.owned: dict[str, float] = {
            one.kind: one.stock_m2 for one in week.site.covers
        }
        self.needs = [
            (work.surface_id, need)
            for work in week.works.values()
            for need in work.cover_needs
        ]
        held = (self._held(sid, need) for sid, need in self.needs)
        self.held = [one for one in held if one is not None]

    def _held(self, surface_id: str, need: CoverNeed) -> Held | None:
        done = self.week.done(surface_id)
        if need.laid_by is None:
            lies = need.lies_from_min
        else:
            lies = done[need.laid_by].start_min if need.laid_by in done else None
        if lies is None:
            return None
        lifted = [done[name].end_min for name in need.lifted_by if name in done]
        off = bool(lifted) and len(lifted) == len(need.lifted_by)
        until = max(lifted) + need.turnaround_min if off else _NEVER
        since = max(0, lies - need.soak_lead_min)
        if need.soaked_by in done:
            since = done[need.soaked_by].start_min
        elif need.soaked_by is not None and lies >= need.in_water_until_min:
            since = lies  # they came wet from other surfaces
        lifts = [self.week.tasks[name] for name in need.lifted_by]
        ready = (task.earliest_min + task.duration_min for task in lifts)
        may_go = max(ready, default=_NEVER) + need.turnaround_min
        return Held(surface_id, need.kind, need.area_m2, since, until, lies, may_go)

    def free_m2(
        self, kind: str, but: str, first: int, until: int | None = None
    ) -> float:
        """Least area that others than one surface leave free; for good without end."""
        others = [h for h in self.held if h.kind == kind and h.surface_id != but]
        last = _NEVER if until is None else until
        times = [first, *(h.from_min for h in others if first < h.from_min < last)]
        return self.owned.get(kind, float(_NEVER)) - max(
            sum(h.area_m2 for h in others if h.from_min <= at < h.until_min)
            for at in times
        )

    def enough(self, surface_id: str, need: CoverNeed, start_min: int) -> bool:
        """Whether a need could be met for good by laying at a minute."""
        since = max(0, start_min - need.soak_lead_min)
        free = self.free_m2(need.kind, surface_id, since)
        return free >= need.area_m2 - _SLACK_M2


@dataclass(frozen=True)
class Asked:
    """A surface that could be covered at a minute, were there covers."""

    stock: Stock
    surface_id: str
    need: CoverNeed
    at_min: int

    @property
    def since_min(self) -> int:
        """From when its covers would have to be its own."""
        return max(0, self.at_min - self.need.soak_lead_min)

    @property
    def short_m2(self) -> float:
        """What lacks of them."""
        free = self.stock.free_m2(
            self.need.kind, self.surface_id, self.since_min, self.at_min + 1
        )
        return self.need.area_m2 - free


def covers_on_cured(week: Week) -> Verdict:
    """8: nothing lies bare for want of covers that lie on concrete cured for 4 h.

    Of covers that may be lifted by then, and until the first of its own are laid.
    """
    title = "bare, its covers lie on cured concrete"
    cases = tuple(_bare(week, _on_cured))
    amount = sum(case.bad for case in cases)
    return Verdict("8", title, cases, amount, week.bare_min or None, "min")


def other_kind_free(week: Week) -> Verdict:
    """8b: bare for want of a kind while another wet cover is free throughout (told)."""
    title = "bare, another kind of cover is free"
    cases = tuple(_bare(week, _of_another_kind))
    amount = sum(case.bad for case in cases)
    return Verdict("8b", title, cases, amount, week.bare_min or None, "min", told=True)


def _bare(week: Week, remedy: Callable[[Asked], list[str]]) -> Iterator[Case]:
    """Yield bare stretches with the minutes in which a remedy was at hand."""
    stock = Stock(week)
    for sid, need in stock.needs:
        if need.laid_by is None:
            continue
        ready = week.tasks[need.laid_by].earliest_min
        own = (
            one.lies_min
            for one in stock.held
            if (one.surface_id, one.kind) == (sid, need.kind)
        )
        brought = min(own, default=_NEVER)  # from then on nothing is wanted of others
        for first, until, bare in week.courses[sid].stretches():
            minutes, names = 0, Counter[str]()
            until = min(until, brought)
            for at in range(max(first, ready), until, _STEP_MIN) if bare else ():
                asked = Asked(stock, sid, need, at)
                found = remedy(asked) if asked.short_m2 > _SLACK_M2 else []
                minutes += min(_STEP_MIN, until - at) if found else 0
                names.update(found)
            if minutes:
                most = ", ".join(name for name, _ in names.most_common(3))
                words = f"{week.label(sid)} bare {week.span(first, until)}, {minutes} "
                words += f"min of it for want of {need.kind.replace('_', ' ')}: {most}"
                yield Case(minutes, words)


def _on_cured(asked: Asked) -> list[str]:
    """Name surfaces that need their covers no more, if these would be enough."""
    week, since = asked.stock.week, asked.since_min
    cured = [
        held
        for held in asked.stock.held
        if held.kind == asked.need.kind
        and held.surface_id != asked.surface_id
        and held.from_min <= since < held.until_min
        and held.lies_min <= since
        and held.may_go_min <= since
        and week.works[held.surface_id].ends_min + _CURED_FOR_MIN <= since
    ]
    if sum(held.area_m2 for held in cured) < asked.short_m2 - _SLACK_M2:
        return []
    return [
        f"lies on {week.label(held.surface_id)}, cured "
        f"{week.at(week.works[held.surface_id].ends_min)}"
        for held in cured
    ]


def _of_another_kind(asked: Asked) -> list[str]:
    """Name other wet covers that are free for all of its curing."""
    stock, sid = asked.stock, asked.surface_id
    since, until = max(0, asked.at_min - _SOAK_MIN), stock.week.works[sid].ends_min
    return [
        f"{kind.replace('_', ' ')} free for all of its curing"
        for kind in _WET
        if kind != asked.need.kind
        and kind in stock.owned
        and stock.free_m2(kind, sid, since, until) >= asked.need.area_m2
    ]
