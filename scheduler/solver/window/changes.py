"""What a window changes of a published roster, at its price.

Work done once is kept or not. A re-wetting may be any of its surface's: each published
one is covered by a choice of its crew about then, or it is paid for, and each planned
one is about a published one, or it is paid for.
"""

from collections import defaultdict

from ortools.sat.python import cp_model

from scheduler.solver.problem.published import PublishedRoster, PublishedStop
from scheduler.solver.window.builder import Draft
from scheduler.solver.window.crews import Placed
from scheduler.solver.window.window import Scene


def price_changes(draft: Draft, scene: Scene, placed: list[Placed]) -> None:
    """Charge every visit that is changed; what stands still is not looked at."""
    published = scene.problem.published
    if published is None or not published.change_cost:
        return
    rewets: dict[int, list[Placed]] = defaultdict(list)
    for one in placed:
        job = one.item.job
        visits = published.by_job.get(job.index, ())
        if job.repeats:
            rewets[job.index].append(one)
        elif visits:
            for visit in visits:
                if (kept := _kept(draft, published, one, visit)) is not None:
                    draft.price(kept, -published.change_cost)
        else:
            _price_added(draft, published, one, [])
    for number, copies in rewets.items():
        _price_rewets(draft, scene, published, number, copies)


def _price_rewets(
    draft: Draft,
    scene: Scene,
    published: PublishedRoster,
    number: int,
    copies: list[Placed],
) -> None:
    surface = scene.problem.jobs[number].surface
    fixed = [stop for stop in scene.fixed_on_surface[surface] if stop.job == number]
    about: list[list[cp_model.IntVar]] = [[] for _ in copies]
    for visit in published.by_job.get(number, ()):
        stays: list[cp_model.IntVar] = []
        for one, own in zip(copies, about, strict=True):
            if (near := _near(draft, published, one, visit)) is not None:
                own.append(near)
            if (kept := _kept(draft, published, one, visit)) is not None:
                stays.append(kept)
        done = any(
            published.crew_of_lane[stop.lane] == visit.crew
            and published.is_near(visit, stop.start)
            for stop in fixed
        )
        if stays and not done:
            left_out = draft.flag(not any(draft.hinted(kept) for kept in stays))
            draft.at_least_one([*stays, left_out])
            draft.price(left_out, published.change_cost)
    for one, own in zip(copies, about, strict=True):
        _price_added(draft, published, one, own)


def _near(
    draft: Draft, published: PublishedRoster, one: Placed, visit: PublishedStop
) -> cp_model.IntVar | None:
    """Make a literal that holds only about a visit; None where it cannot."""
    low, high = visit.start - published.tolerance, visit.start + published.tolerance
    if one.item.first > high or one.item.last < low:
        return None
    today = one.item.today
    near = draft.flag(today is not None and published.is_near(visit, today.start))
    draft.model.add_implication(near, one.present)
    draft.model.add_linear_constraint(one.start, low, high).only_enforce_if(near)
    return near


def _kept(
    draft: Draft, published: PublishedRoster, one: Placed, visit: PublishedStop
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
    today = one.item.today
    kept = draft.flag(
        today is not None
        and published.crew_of_lane[today.lane] == visit.crew
        and published.is_near(visit, today.start)
    )
    draft.model.add_bool_or([*own, ~kept])
    draft.model.add_linear_constraint(one.start, low, high).only_enforce_if(kept)
    return kept


def _price_added(
    draft: Draft, published: PublishedRoster, one: Placed, about: list[cp_model.IntVar]
) -> None:
    """Charge a visit that is about none that was published, where some were."""
    item, today = one.item, one.item.today
    if item.first >= published.until or item.last < published.first:
        return
    excuses = list(about)
    if item.first < published.first:
        early = draft.flag(today is not None and today.start < published.first)
        draft.model.add(one.start < published.first).only_enforce_if(early)
        excuses.append(early)
    if item.last >= published.until:
        late = draft.flag(today is not None and today.start >= published.until)
        draft.model.add(one.start >= published.until).only_enforce_if(late)
        excuses.append(late)
    if not excuses:
        draft.price(one.present, published.change_cost)
        return
    added = draft.flag(
        draft.hinted(one.present) and not any(draft.hinted(each) for each in excuses)
    )
    draft.at_least_one([~one.present, added, *excuses])
    draft.price(added, published.change_cost)
