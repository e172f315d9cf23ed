"""Area of each kind of cover in use against the site's stock.

Covers are in use from the minute their laying begins, or from the start of the week
where they lie already, until they are lifted or another one is planned in their place,
washed and moved. Kinds that the site lists no stock of are not counted.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from models.quantities import show
from models.records import (
    CoverProperties,
    CoverStock,
    CoverTrace,
    CoverUse,
    Finding,
    Site,
    Surface,
    SurfaceWork,
)
from scheduler.audit.found import found
from scheduler.audit.jobs import Job, by_surface
from scheduler.audit.site_clock import SiteClock


@dataclass(frozen=True)
class Laid:
    """Covers on one surface, from laying to being ready for the next."""

    surface: Surface
    from_min: int
    until_min: int


@dataclass(frozen=True)
class StockPlay:
    """One kind of cover over the week."""

    stock: CoverStock
    title: str
    laid: tuple[Laid, ...]

    def in_use_m2(self, minute: int) -> float:
        """Area in use in a minute."""
        return sum(
            use.surface.area_m2
            for use in self.laid
            if use.from_min <= minute < use.until_min
        )


def play_covers(
    site: Site,
    surfaces: Sequence[Surface],
    works: Sequence[SurfaceWork],
    jobs: Sequence[Job],
    clock: SiteClock,
) -> tuple[StockPlay, ...]:
    """Follow the covers of each kind in stock."""
    grouped = by_surface(jobs)
    laid: dict[str, list[Laid]] = {stock.kind: [] for stock in site.covers}
    titles: dict[str, str] = {}
    turnaround = {s.kind: round(s.turnaround_h * 60) for s in site.covers}
    never = clock.horizon.length_min
    for surface, work in zip(surfaces, works, strict=True):
        titles |= {cover.kind: cover.title for cover in surface.covers}
        own = grouped.get(work.surface_id, [])
        for cover, from_min, off_min in _lying(surface, work, own, clock):
            if cover.kind in laid:
                until = never if off_min is None else off_min + turnaround[cover.kind]
                laid[cover.kind].append(Laid(surface, from_min, until))
    return tuple(
        StockPlay(stock, titles.get(stock.kind, stock.kind), tuple(laid[stock.kind]))
        for stock in site.covers
    )


def _lifted(work: SurfaceWork, own: Sequence[Job]) -> list[int]:
    """Give the minute at which the last part is off; none while a part lies there."""
    parts = {task.id for task in work.tasks if task.kind == "remove_cover"}
    ends = {job.task.id: job.end_min for job in own if job.task.id in parts}
    return [max(ends.values())] if ends and ends.keys() == parts else []


def _lying(
    surface: Surface, work: SurfaceWork, own: Sequence[Job], clock: SiteClock
) -> Iterator[tuple[CoverProperties, int, int | None]]:
    """Yield each cover of a surface that comes to lie there, from and until when."""
    starts = [job.start_min for job in own if job.task.covers]
    if surface.covered_at is not None:
        starts.append(min(0, clock.horizon.minute(surface.covered_at)))
    if not starts:
        return
    lifted = _lifted(work, own)
    changes = [clock.horizon.minute(stage.starts_at) for stage in surface.later]
    begins = [min(starts), *(max(min(starts), minute) for minute in changes)]
    for index, (cover, from_min) in enumerate(zip(surface.covers, begins, strict=True)):
        offs = [*begins[index + 1 : index + 2], *lifted]
        if not offs or max(0, from_min) < min(offs):
            yield cover, max(0, from_min), min(offs, default=None)


def check_covers(
    site: Site, plays: Sequence[StockPlay], clock: SiteClock
) -> list[Finding]:
    """Say where more covers are wanted than the site owns, by whom and when."""
    return [
        _short(site, play, first, last, clock)
        for play in plays
        for first, last in _over(play)
    ]


def _over(play: StockPlay) -> list[tuple[int, int]]:
    """Stretches in which more is in use than in stock."""
    times = sorted({t for use in play.laid for t in (use.from_min, use.until_min)})
    spans: list[tuple[int, int]] = []
    for first, last in pairwise(times):
        if play.in_use_m2(first) > play.stock.stock_m2 + 1e-6:
            if spans and spans[-1][1] == first:
                spans[-1] = (spans[-1][0], last)
            else:
                spans.append((first, last))
    return spans


def _short(
    site: Site, play: StockPlay, first: int, last: int, clock: SiteClock
) -> Finding:
    """Name the surfaces laid from the first shortage to the worst of it."""
    times = [use.from_min for use in play.laid if first <= use.from_min < last]
    worst = max(times, key=lambda minute: (play.in_use_m2(minute), -minute))
    late = [use for use in play.laid if first <= use.from_min <= worst]
    wanted = sum(use.surface.area_m2 for use in late)
    before = sum(
        use.surface.area_m2
        for use in play.laid
        if use not in late and use.from_min <= worst < use.until_min
    )
    free = max(0.0, play.stock.stock_m2 - before)
    labels = ", ".join(use.surface.label for use in late)
    verb = "needs" if len(late) == 1 else "need"
    words = (
        f"{labels} {verb} {show('area', wanted, site.units)} of {play.title} "
        f"{clock.words(first)}; {show('area', free, site.units)} free"
    )
    return found(
        clock, "covers_short", words, first, last, limit="covers", minutes=last - first
    )


def cover_traces(
    plays: Sequence[StockPlay], clock: SiteClock
) -> tuple[CoverTrace, ...]:
    """Area in use of each kind, a step at each change."""
    return tuple(
        CoverTrace(
            kind=play.stock.kind,
            stock_m2=play.stock.stock_m2,
            in_use=tuple(
                CoverUse(at=clock.horizon.at(minute), area_m2=play.in_use_m2(minute))
                for minute in sorted(
                    {0}
                    | {t for use in play.laid for t in (use.from_min, use.until_min)}
                )
            ),
        )
        for play in plays
    )
