"""What a neighbourhood changes of a published roster, at its price.

Work done once is kept or not. A re-wetting may be any of its surface's: each published
one is covered by a choice of its crew about then, or it is paid for, and each planned
one is about a published one, or it is paid for.
"""

from collections import defaultdict

from ortools.sat.python import cp_model

from scheduler.solver.problem.published import PublishedRoster, PublishedStop
from scheduler.solver.subproblem.model_builder import ModelBuilder
from scheduler.solver.subproblem.placement import PlacedItem
from scheduler.solver.subproblem.subproblem import Subproblem


def price_changes(
    builder: ModelBuilder, subproblem: Subproblem, placed: list[PlacedItem]
) -> None:
    """Charge every visit that is changed; what stands still is not looked at."""
    published = subproblem.problem.published
    if published is None or not published.change_cost:
        return
    rewets: dict[int, list[PlacedItem]] = defaultdict(list)
    for one in placed:
        job = one.item.job
        visits = published.by_job.get(job.index, ())
        if job.repeats:
            rewets[job.index].append(one)
        elif visits:
            for visit in visits:
                if (kept := _kept(builder, published, one, visit)) is not None:
                    builder.price(kept, -published.change_cost)
        else:
            _price_added(builder, published, one, [])
    for number, copies in rewets.items():
        _price_rewets(builder, subproblem, published, number, copies)


def _price_rewets(
    builder: ModelBuilder,
    subproblem: Subproblem,
    published: PublishedRoster,
    number: int,
    copies: list[PlacedItem],
) -> None:
    surface = subproblem.problem.jobs[number].surface
    fixed = [
        stop
        for stop in subproblem.fixed_on_surface[surface]
        if stop.job == number and stop.start >= published.begun_until
    ]
    about: list[list[cp_model.IntVar]] = [[] for _ in copies]
    for visit in published.by_job.get(number, ()):
        keepers: list[cp_model.IntVar] = []
        for one, own in zip(copies, about, strict=True):
            if (near := _near(builder, published, one, visit)) is not None:
                own.append(near)
            if (kept := _kept(builder, published, one, visit)) is not None:
                keepers.append(kept)
        done = any(
            published.crew_of_lane[stop.lane] == visit.crew
            and published.is_near(visit, stop.start)
            for stop in fixed
        )
        if keepers and not done:
            left_out = builder.flag(not any(builder.hinted(kept) for kept in keepers))
            builder.at_least_one([*keepers, left_out])
            builder.price(left_out, published.change_cost)
    for one, own in zip(copies, about, strict=True):
        _price_added(builder, published, one, own)


def _near(
    builder: ModelBuilder,
    published: PublishedRoster,
    one: PlacedItem,
    visit: PublishedStop,
) -> cp_model.IntVar | None:
    """Make a literal that holds only about a visit; None where it cannot."""
    low, high = visit.start - published.tolerance, visit.start + published.tolerance
    if one.item.first > high or one.item.last < low:
        return None
    current = one.item.current
    near = builder.flag(current is not None and published.is_near(visit, current.start))
    builder.model.add_implication(near, one.present)
    builder.model.add_linear_constraint(one.start, low, high).only_enforce_if(near)
    return near


def _kept(
    builder: ModelBuilder,
    published: PublishedRoster,
    one: PlacedItem,
    visit: PublishedStop,
) -> cp_model.IntVar | None:
    """Make the same literal for a visit by its own crew."""
    low, high = visit.start - published.tolerance, visit.start + published.tolerance
    own = [
        literal
        for lane, literal in one.lanes.items()
        if published.crew_of_lane[lane] == visit.crew
        and one.item.spans[lane][0] <= high
        and one.item.spans[lane][1] >= low
    ]
    if not own:
        return None
    current = one.item.current
    kept = builder.flag(
        current is not None
        and published.crew_of_lane[current.lane] == visit.crew
        and published.is_near(visit, current.start)
    )
    builder.model.add_bool_or([*own, ~kept])
    builder.model.add_linear_constraint(one.start, low, high).only_enforce_if(kept)
    return kept


def _price_added(
    builder: ModelBuilder,
    published: PublishedRoster,
    one: PlacedItem,
    about: list[cp_model.IntVar],
) -> None:
    """Charge a visit that is about none that was published, where some were."""
    item, current = one.item, one.item.current
    if item.first >= published.until or item.last < published.first:
        return
    excuses = list(about)
    if item.first < published.first:
        early = builder.flag(current is not None and current.start < published.first)
        builder.model.add(one.start < published.first).only_enforce_if(early)
        excuses.append(early)
    if item.last >= published.until:
        late = builder.flag(current is not None and current.start >= published.until)
        builder.model.add(one.start >= published.until).only_enforce_if(late)
        excuses.append(late)
    if not excuses:
        builder.price(one.present, published.change_cost)
        return
    added = builder.flag(
        builder.hinted(one.present)
        and not any(builder.hinted(each) for each in excuses)
    )
    builder.at_least_one([~one.present, added, *excuses])
    builder.price(added, published.change_cost)
