"""What is laid is wet: soaked by a visit, come wet from other surfaces, or in water.

For each laying the model has a literal for each of these ways; whose covers come from
where is a flow from what comes off to what is laid. Plain ints of time are minutes from
the start of the horizon.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from ortools.sat.python import cp_model

from scheduler.solver.plan.covers import Need, Use
from scheduler.solver.subproblem.model_builder import ModelBuilder
from scheduler.solver.subproblem.placement import PlacedItem
from scheduler.solver.subproblem.subproblem import Subproblem


@dataclass(frozen=True)
class Wetting:
    """From when on a need has its covers, by the way in which they are wet.

    Attributes
    ----------
    begins : LinearExprT
        Minute from which they are taken from the stock.
    first, hint : int
        The first that can be, and today's.
    laid : PlacedItem or None
        None where laying stands still.
    wet : IntVar or None
        Holds if they come wet from other surfaces; None if they cannot.
    """

    begins: cp_model.LinearExprT
    first: int
    hint: int
    laid: PlacedItem | None = None
    wet: cp_model.IntVar | None = None


@dataclass(frozen=True)
class Source:
    """Covers that come off: if ``lifted`` holds, washed from a minute on."""

    lifted: cp_model.IntVar | None
    washed: cp_model.LinearExprT
    washed_today: int
    units: int


def wetting_of(
    builder: ModelBuilder,
    subproblem: Subproblem,
    need: Need,
    today: tuple[Use | None, bool],
    items: Mapping[int, PlacedItem],
    may_come_wet: bool,
) -> Wetting | None:
    """Let what is laid be wet in one way or another; None if that stands still.

    Parameters
    ----------
    today : (Use or None, bool)
        How the need has its covers now, and whether they come wet.
    may_come_wet : bool
        Whether anything comes off that it could take.
    """
    use, comes_wet = today
    laid = None if need.laid_by is None else items.get(need.laid_by)
    soak = None if need.soaked_by is None else items.get(need.soaked_by)
    soaked = use is not None and use.soaked_from is not None
    waits, model = subproblem.covers.soaks_for(need), builder.model
    if laid is None:
        if soak is None or not soaked or use is None or use.soaked_from is None:
            return None
        builder.at_least_one([soak.present])
        model.add(soak.start + waits <= use.laid)
        return Wetting(soak.start, soak.item.first, use.soaked_from)
    standing = next(
        (
            stop.start
            for stop in subproblem.fixed_on_surface.get(need.surface, [])
            if stop.job == need.soaked_by
        ),
        None,
    )
    start, item = laid.start, laid.item
    until = need.record.in_water_until_min
    soonest = standing if soak is None else soak.item.first
    first = item.first if soonest is None else min(item.first, soonest)
    if item.first < until:
        first = min(first, item.first - need.lead)
    hint = first
    if use is not None:
        hint = use.laid if comes_wet else use.laid - need.lead
        hint = use.soaked_from if use.soaked_from is not None else hint
    begins = builder.number(first, item.last, hint)
    ways: list[cp_model.IntVar] = []

    def way(holds_today: bool, no_later: cp_model.LinearExprT) -> cp_model.IntVar:
        literal = builder.flag(holds_today)
        model.add(begins <= no_later).only_enforce_if(literal)
        ways.append(literal)
        return literal

    by_visit: cp_model.IntVar | None = None
    if soak is not None:
        by_visit = way(soaked, soak.start)
        model.add_implication(by_visit, soak.present)
        model.add(start >= soak.start + waits).only_enforce_if(by_visit)
    elif standing is not None:
        by_visit = way(soaked, standing)
        model.add(start >= standing + waits).only_enforce_if(by_visit)
    if item.first < until:
        lay_there = use is not None and not soaked and not comes_wet
        in_water = way(lay_there, start - need.lead)
        model.add(start < until).only_enforce_if(in_water)
    wet = way(comes_wet, start) if may_come_wet else None
    unsoaked = [one for one in ways if one is not by_visit]
    for one in unsoaked:  # what has been soaked in time has been taken by then
        if soak is not None:
            model.add_implication(one, ~soak.present)
        elif standing is not None:
            model.add(start < standing + waits).only_enforce_if(one)
    builder.at_least_one([*ways, ~laid.present])
    return Wetting(begins, first, hint, laid, wet)


def keep_wet_moves(
    builder: ModelBuilder,
    takers: Mapping[int, tuple[Wetting | int, int]],
    sources: Mapping[int, Source],
    today: Mapping[int, Mapping[int, int]],
    lasts: int,
) -> None:
    """Let what is laid wet find its whole area among what has come off.

    Parameters
    ----------
    takers : mapping
        By need what is laid wet, or when that stands still, and its area in units.
    today : mapping
        What each takes from each now.
    lasts : int
        Minutes for which covers stay wet once they are washed.
    """
    model = builder.model
    given: dict[int, list[cp_model.IntVar]] = {index: [] for index in sources}
    for index, (taker, units) in takers.items():
        taken: list[cp_model.IntVar] = []
        for other, source in sources.items():
            if other == index:
                continue
            most = min(units, source.units)
            hint = min(most, today.get(index, {}).get(other, 0))
            if not hint and not _can_meet(taker, source, lasts):
                continue
            amount, takes = builder.number(0, most, hint), builder.flag(hint > 0)
            model.add(amount == 0).only_enforce_if(~takes)
            start = _start(taker)
            model.add(start >= source.washed).only_enforce_if(takes)
            model.add(start <= source.washed + lasts).only_enforce_if(takes)
            if source.lifted is not None:
                model.add_implication(takes, source.lifted)
            taken.append(amount)
            given[other].append(amount)
        when = () if isinstance(taker, int) else _flags(taker)
        total = cp_model.LinearExpr.sum(taken)
        model.add(total >= units).only_enforce_if(*when)
    for index, amounts in given.items():
        if len(amounts) > 1:
            total = cp_model.LinearExpr.sum(amounts)
            model.add(total <= sources[index].units)


def keep_check(
    builder: ModelBuilder,
    subproblem: Subproblem,
    need: Need,
    items: Mapping[int, PlacedItem],
) -> None:
    """Let who checks before placing come after the soaking, if that is over by then."""
    if need.checked_by is None or need.soaked_by is None:
        return
    check, soak = items.get(need.checked_by), items.get(need.soaked_by)
    if check is None and soak is None:
        return
    standing = {
        stop.job: stop.start
        for stop in subproblem.fixed_on_surface.get(need.surface, [])
    }
    model, last = builder.model, subproblem.covers.last_start(need.checked_by)
    takes = subproblem.problem.jobs[need.soaked_by].duration
    if soak is None:
        over = standing.get(need.soaked_by, last) + takes
        if check is not None and over <= last:
            model.add(check.start >= over).only_enforce_if(check.present)
        return
    current = soak.item.current
    today = (current.start if current is not None else soak.item.first) + takes
    late = builder.flag(today > last)
    model.add(soak.start + takes > last).only_enforce_if(late)
    if check is not None:
        model.add(check.start >= soak.start + takes).only_enforce_if(
            ~late, check.present, soak.present
        )
    elif need.checked_by in standing:
        by = standing[need.checked_by]
        model.add(soak.start + takes <= by).only_enforce_if(~late, soak.present)


def _start(taker: Wetting | int) -> cp_model.LinearExprT:
    if isinstance(taker, int):
        return taker
    assert taker.laid is not None
    return taker.laid.start


def _flags(taker: Wetting) -> tuple[cp_model.IntVar, ...]:
    assert taker.wet is not None
    assert taker.laid is not None
    return taker.wet, taker.laid.present


def _can_meet(taker: Wetting | int, source: Source, lasts: int) -> bool:
    """Whether what is laid could take what comes off, as far as either stands still."""
    if source.lifted is not None:
        return True
    washed = source.washed_today
    if isinstance(taker, int):
        return washed <= taker <= washed + lasts
    assert taker.laid is not None
    return taker.laid.item.first <= washed + lasts and washed <= taker.laid.item.last
