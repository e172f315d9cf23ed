"""Covers are wetted before they run dry, and topped up before nobody is there."""

from collections.abc import Iterator
from math import ceil

from tests.bench.pencil.outlook import AHEAD_MIN, Outlook
from tests.bench.pencil.spots import Spot
from tests.bench.yard.facts import SET_UP_MIN, Action
from tests.bench.yard.rows import Row

_WET_BEFORE_MIN = 20
_TOP_UP_MIN = 20
_WORTH = 0.5  # area cost that a worker-minute of wetting has to save


def thirsty(day: Outlook, now: int) -> Iterator[tuple[float, Spot, Action]]:
    """Yield covers to wet with what that saves for each worker-minute."""
    for spot in day.spots:
        work = spot.facts.work
        if spot.full_min is None or now >= work.ends_min or spot.rest > 1e-3:
            continue
        ended = max(spot.ended_min[a] for a in ("lay", "rewet", "first_soak"))
        if ended > now:
            continue
        soak = spot.facts.jobs.get("first_soak")
        action: Action = "rewet"
        if soak and not spot.whole("first_soak") and now >= soak.earliest_min:
            action = "first_soak"
        job = spot.facts.jobs.get(action)
        if job is None or work.curve is None:
            continue
        hand_min = SET_UP_MIN + job.per_m2_min * spot.area_m2 + 5
        saves = _saves(day, spot, now)
        begun = spot.share[action] > 0
        if action == "first_soak" or begun or saves > _WORTH * hand_min:
            yield saves / hand_min + (action == "first_soak"), spot, action


def _saves(day: Outlook, spot: Spot, now: int) -> float:
    """Area cost that wetting now saves; 0 while there is time."""
    topping_up = day.home_min - now <= day.top_up_min
    until = day.back_min + 30 if topping_up else now + _WET_BEFORE_MIN
    if spot.dry_min > until:
        return 0.0
    dry = max(now, spot.dry_min)
    full, known = spot.full_min, spot.dry_min
    spot.wet_from(now, day.facts.length_min)
    wet_until = min(spot.dry_min, spot.facts.work.ends_min, day.facts.length_min)
    spot.full_min, spot.dry_min = full, known
    last = min(wet_until, max(until, dry + AHEAD_MIN))
    return float(spot.facts.dry_weight[dry:last].sum()) * spot.area_m2 / 100


def wet(day: Outlook, spot: Spot, action: Action, now: int) -> None:
    """Let one or two wet a cover; in overtime, if it is the last time for long."""
    job = spot.facts.jobs[action]
    late = day.home_min - now <= day.top_up_min
    work_min = job.per_m2_min * spot.area_m2
    count = max(job.fewest, min(3, ceil(work_min / 60)))
    for _, people in day.book.free(spot, now, "labourer", overtime=late)[:1]:
        if len(people) < job.fewest:
            continue
        row = day.book.send(
            spot, action, people[:count], now, day.spare_min(now, 120),
            1 - spot.share[action], overtime=late,
        )  # fmt: skip
        if row is not None and spot.share[action] > 0.999:
            if action == "rewet":
                spot.share[action] = 0.0
            spot.wet_from(row.start_min, day.facts.length_min)
            _seen(spot, row)


def _seen(spot: Spot, row: Row) -> None:
    """Whoever wets a cover feels it first."""
    look = spot.facts.jobs.get("look")
    for task in look.tasks if look else ():
        if task.earliest_min <= row.start_min and row.end_min <= task.latest_min:
            spot.done.add(task.id)


def top_up_min(day: Outlook, now: int) -> int:
    """How long it takes all hands to fill what would run dry with nobody there."""
    wanted = 0.0
    for spot in day.spots:
        job = spot.facts.jobs.get("rewet")
        if job is not None and spot.full_min is not None and spot.rest < 1e-3:
            last = min(day.back_min, spot.facts.work.ends_min)
            wanted += spot.dry_min < last and (
                (SET_UP_MIN + job.per_m2_min * spot.area_m2) / job.fewest
            )
    return _TOP_UP_MIN + ceil(2 * wanted / max(1, day.people(now)))


def call_out(day: Outlook, now: int) -> None:
    """Call a gang out where that saves more than it costs."""
    crew, costs = day.book.crew, day.facts.work.costs
    for gang in crew.gangs:
        shift = gang.shift
        due = shift.starts_min <= now < shift.ends_min and now % 30 == 0
        if shift.kind != "on_call" or shift.id in crew.called or not due:
            continue
        until = day.back_min
        saved = 0.0
        for spot in day.spots:
            last = min(until, spot.facts.work.ends_min, now + 600)
            if spot.full_min is not None and spot.dry_min < last:
                dry = slice(max(now, spot.dry_min), last)
                weight = float(spot.facts.dry_weight[dry].sum())
                saved += weight * spot.area_m2 / 100
            elif spot.rest > 0 and day.may_lay(spot, now):
                weight = float(spot.facts.bare_weight[now:last].sum())
                saved += weight * spot.area_m2 * spot.rest / 100
        hours = max(costs.call_out_min_h, (shift.ends_min - now) / 60)
        if saved > 2 * (costs.call_out + hours * costs.call_out_hour):
            crew.call(gang, now)
