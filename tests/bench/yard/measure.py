"""What a plan comes to: area cost, square metre hours, worker-hours, litres, faults."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from tests.bench.yard.facts import SiteFacts
from tests.bench.yard.order import out_of_order
from tests.bench.yard.people import hours
from tests.bench.yard.rows import Row
from tests.bench.yard.strips import follow_strips
from tests.bench.yard.supplies import without_covers, without_water

_DAY_MIN = 1440
_WETTINGS = frozenset({"first_soak", "rewet"})


@dataclass(frozen=True)
class Measure:
    """A plan by the yardstick.

    Attributes
    ----------
    area_cost : float
        Sum of weight × m² / 100 × minutes, bare or dry.
    bare_24h_m2_h, bare_later_m2_h : float
        Bare and drying, within a day of the minute it could be covered, and later.
    looks, duties, lifts : tuple of (int, int)
        Done, and asked for.
    cost_by_surface : dict
        Area cost of each surface that has any.
    """

    area_cost: float
    bare_24h_m2_h: float
    bare_later_m2_h: float
    dry_m2_h: float
    work_h: float
    walk_h: float
    standing_by_h: float
    overtime_h: float
    called_out_h: float
    visits: int
    litres_l: float
    looks: tuple[int, int]
    duties: tuple[int, int]
    lifts: tuple[int, int]
    violations: tuple[str, ...]
    cost_by_surface: dict[str, float]


def measure(facts: SiteFacts, rows: Sequence[Row]) -> Measure:
    """Judge a plan, whoever made it."""
    by_surface: dict[str, list[Row]] = defaultdict(list)
    for row in rows:
        if row.action != "break":
            by_surface[row.surface_id].append(row)
    cost: dict[str, float] = {}
    bare_24h, bare_later, dry, followed = 0.0, 0.0, 0.0, {}
    for sid, of in facts.surfaces.items():
        strips = follow_strips(of, by_surface[sid], facts.length_min)
        followed[sid] = strips
        area_m2 = of.work.area_m2 / len(strips)
        day = (of.ready_min or 0) + _DAY_MIN
        for strip in strips:
            bare_24h += float(strip.bare[: max(0, day)].sum()) * area_m2 / 60
            bare_later += float(strip.bare[max(0, day) :].sum()) * area_m2 / 60
            dry += float(strip.dry.sum()) * area_m2 / 60
            worth = strip.bare * of.bare_weight + strip.dry * of.dry_weight
            cost[sid] = cost.get(sid, 0.0) + float(worth.sum()) * area_m2 / 100
    taken = hours(facts, rows)
    real = [row for row in rows if row.action != "break" and row.people]
    broken = [
        *taken.broken, *without_water(facts, real), *without_covers(facts, rows),
        *out_of_order(facts, rows, followed),
    ]  # fmt: skip
    return Measure(
        area_cost=sum(cost.values()), bare_24h_m2_h=bare_24h,
        bare_later_m2_h=bare_later, dry_m2_h=dry,
        work_h=taken.at_work / 60, walk_h=taken.walked / 60,
        standing_by_h=taken.standing_by / 60, overtime_h=taken.overtime / 60,
        called_out_h=taken.called_out / 60,
        visits=sum(not row.goes_on for row in real),
        litres_l=sum(row.litres_l for row in real), looks=_looks(facts, by_surface),
        duties=_done(facts, by_surface, ("hold", "check", "first_soak")),
        lifts=_done(facts, by_surface, ("lift",)), violations=tuple(broken),
        cost_by_surface={sid: one for sid, one in cost.items() if one},
    )  # fmt: skip


def _looks(facts: SiteFacts, rows: dict[str, list[Row]]) -> tuple[int, int]:
    """Count looks asked for, and those that a look or a wetting in time does."""
    done, asked = 0, 0
    for sid, of in facts.surfaces.items():
        for task in of.jobs["look"].tasks if "look" in of.jobs else ():
            asked += 1
            done += any(
                row.action in {"look", *_WETTINGS}
                and task.earliest_min <= row.start_min
                and row.end_min <= task.latest_min + 1
                for row in rows[sid]
            )
    return done, asked


def _done(
    facts: SiteFacts, rows: dict[str, list[Row]], actions: Sequence[str]
) -> tuple[int, int]:
    """Count jobs that could be done in the week, and those done whole."""
    done, asked = 0, 0
    for sid, of in facts.surfaces.items():
        for action, job in of.jobs.items():
            if action in actions and job.earliest_min + 60 < facts.length_min:
                asked += 1
                shares = (row.share for row in rows[sid] if row.action == action)
                done += sum(shares) > 0.98
    return done, asked


def lines(name: str, of: Measure) -> Iterator[str]:
    """Say a measure in words."""
    yield f"{name}: area cost {of.area_cost:,.0f}"
    yield (
        f"  bare {of.bare_24h_m2_h:,.0f} m²h in the first 24 h, "
        f"{of.bare_later_m2_h:,.0f} later; dry under cover {of.dry_m2_h:,.0f} m²h"
    )
    yield (
        f"  worker-hours {of.work_h:.0f} at work, {of.walk_h:.0f} walking, "
        f"{of.standing_by_h:.0f} standing by; {of.overtime_h:.0f} overtime, "
        f"{of.called_out_h:.0f} called out"
    )
    yield (
        f"  {of.visits} visits, {of.litres_l:,.0f} L; looks {of.looks[0]} of "
        f"{of.looks[1]}, hold points, checks and first soaks {of.duties[0]} of "
        f"{of.duties[1]}, lifts {of.lifts[0]} of {of.lifts[1]}"
    )
    yield f"  {len(of.violations)} violations"
    yield from (f"    {words}" for words in of.violations[:20])
