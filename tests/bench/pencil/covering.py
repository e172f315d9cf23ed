"""Cloth goes into water in time; all hands lay in strips, spare ones fog the rest."""

from math import ceil

from models.records import CoverNeed
from tests.bench.pencil.outlook import FOG_MIN, Outlook
from tests.bench.pencil.spots import Spot
from tests.bench.yard.facts import FOG_M2, Action

_LAYING_MIN, _LEAST_LAYING_MIN, _MOST_LAYING = 90, 10, 12
_SOAK_BEFORE_MIN, _SOAK_AT_MOST_BEFORE_MIN = 600, 4320
_LEAST_SOAKED = 0.2  # of a surface; less is not worth the walk
_KEPT_FOR_MIN = 3 * 1440


def soak_ahead(day: Outlook, now: int) -> None:
    """Put cloth into water, in the last shift from which it can be ready."""
    actions: tuple[Action, ...] = ("lay", "change")
    for spot in day.by_rate(now):
        for action in actions:
            need, last = day.need(spot, action), day.soaks_from(spot, action)
            if need is None or last is None or spot.whole(action):
                continue
            soon = day.back_min + 30 > last or now >= last - _SOAK_BEFORE_MIN
            far = last + need.soak_lead_min - now > _SOAK_AT_MOST_BEFORE_MIN
            if soon and not far and not spot.soaked[need.kind]:
                _soak(day, spot, need, now)


def _soak(day: Outlook, spot: Spot, need: CoverNeed, now: int) -> None:
    area_m2 = min(need.area_m2, day.book.stock.free_m2(need.kind, now))
    if area_m2 < _LEAST_SOAKED * need.area_m2:
        return
    for _, people in day.book.free(spot, now, "labourer")[:1]:
        row = day.book.soak_ahead(spot, people[0], now, area_m2, need.kind)
        if row is not None:
            day.book.stock.take(need, area_m2, row.start_min, wet=False)
            wet = row.end_min + need.soak_lead_min
            spot.soaked[need.kind].append((wet, area_m2))


def lay(day: Outlook, spot: Spot, now: int, foggers: int) -> None:
    """Let all who can lay do so, but those who fog the rest meanwhile."""
    job = spot.facts.jobs["lay"]
    teams = day.book.free(spot, now, "labourer", overtime=True)
    hands = sum(len(people) for _, people in teams)
    work_min = job.per_m2_min * spot.rest * spot.area_m2
    left_min = max(1, day.home_min - now)
    laying = sum(
        row.people
        for row in day.book.rows[-60:]
        if row.surface_id == spot.id
        and row.action == "lay"
        and row.start_min <= now < row.end_min
    )
    # A minute of fog holds 150 m² for that minute; a minute of laying keeps half a
    # square metre for as long as what is bare now takes to lay, if nobody goes home.
    waits_min = day.backlog(now) / max(1, day.people(now))
    enough = (laying + hands - foggers) * left_min >= work_min
    enough = enough and waits_min < FOG_M2 * job.per_m2_min
    spare = min(foggers, hands - max(0, job.fewest - laying)) if enough else 0
    if spare > 0:
        fog(day, spot, now, spare)
        teams = day.book.free(spot, now, "labourer", overtime=True)
    for _, people in teams:
        most = min(len(people), _MOST_LAYING - laying)
        wanted = min(spot.rest, day.cloth(spot, now))
        if most < job.fewest or wanted <= 1e-3:
            continue
        need = max(job.fewest, ceil(work_min / _LEAST_LAYING_MIN))
        row = day.book.send(
            spot, "lay", people[: min(most, need)], now, _LAYING_MIN, wanted,
            overtime=True,
        )  # fmt: skip
        if row is not None:
            laying += row.people
            day.take_cloth(spot, "lay", row)
            if spot.full_min is None:
                spot.wet_from(row.start_min, day.facts.length_min)


def fog(day: Outlook, spot: Spot, now: int, foggers: int) -> None:
    """Let so many keep what is bare wet for a while."""
    for _, people in day.book.free(spot, now, "fogger"):
        if foggers > 0:
            length, ready = FOG_MIN, spot.facts.ready_min
            if ready is not None and ready > now:
                length = min(2 * FOG_MIN, ready - now)
            row = day.book.fog(spot, people[:foggers], now, length)
            foggers -= row.people if row else 0


def change(day: Outlook, now: int) -> None:
    """One cover gives way to the next, strip by strip."""
    for spot in day.by_rate(now):
        job = spot.facts.jobs.get("change")
        if job is None or spot.whole("change") or now < job.earliest_min:
            continue
        if spot.rest > 1e-3 or spot.ended_min["lay"] > now:
            continue
        ids = {task.id for task in job.tasks}
        needs = spot.facts.work.cover_needs
        new = day.need(spot, "change")
        old = next((n for n in needs if ids & set(n.lifted_by)), None)
        wanted = 1 - spot.share["change"]
        if new is not None:
            free = day.cloth(spot, now, "change") * new.area_m2
            wanted = min(wanted, (free - _kept(day, new.kind, now)) / new.area_m2)
        for _, people in day.book.free(spot, now, "labourer")[:1]:
            if len(people) < job.fewest or wanted < 0.01:
                continue
            row = day.book.send(spot, "change", people[:6], now, 60, wanted)
            if row is None:
                continue
            day.take_cloth(spot, "change", row)
            if old is not None:
                back = row.share * old.area_m2
                day.book.stock.give_back(old, back, row.end_min)
            spot.wet_from(row.start_min, day.facts.length_min)


def _kept(day: Outlook, kind: str, now: int) -> float:
    """Area that bare surfaces of the next days want of a kind."""
    wanted = 0.0
    for spot in day.spots:
        need, ready = day.need(spot), spot.facts.ready_min
        if need is not None and need.kind == kind and ready is not None:
            soon = ready < now + _KEPT_FOR_MIN
            wanted += need.area_m2 * spot.rest * soon
    return wanted
