"""The reason for a gap or a missed duty in site words, with amounts and local times."""

from dataclasses import replace

import numpy as np

from models.quantities import show
from models.records import SurfaceWork, Task, WaterNeed
from scheduler.audit.causes.covers import stock_words
from scheduler.audit.causes.crews import crew_reasons
from scheduler.audit.causes.water import points_of
from scheduler.audit.replayed.around import Around, Reason


def price_words(task: Task, work: SurfaceWork, at: int, on: Around) -> str:
    """Say who could have gone, and whether that would have been a call-out."""
    start = np.array([at])
    able = []
    for window in on.windows:
        steps = crew_reasons(task, work, start, replace(on, windows=(window,)))
        if all(passed.all() for _, passed in steps):
            able.append(window)
    what, when = task.kind.replace("_", " "), on.clock.words(at)
    first = min(able, key=lambda window: window.pattern.on_call)
    if first.pattern.on_call:
        called = f"{first.crew.name} could be called out to {what} {when}"
        return f"{called}; leaving it costs less"
    return f"{first.crew.name} could {what} {when}; other costs weighed more"


def reason_words(
    reason: Reason, task: Task, work: SurfaceWork, span: tuple[int, int], on: Around
) -> str:
    """Say what the work ran against, and from when to when."""
    what, when = task.kind.replace("_", " "), on.clock.span(*span)
    if reason == "window":
        return f"{what} may not begin {when}"
    if reason == "stock":
        return stock_words(task, span[0], on)
    if reason == "nobody":
        return f"no crew on shift {when}"
    if reason == "ban":
        return f"nobody works outdoors in the heat ban {when}"
    if reason == "hands":
        skills = ", ".join(task.skills)
        return f"{what} takes {task.people} people ({skills}); no such crew on {when}"
    if reason == "hours":
        return f"{what} takes {task.duration_min} min; no crew is on so long {when}"
    if reason == "rest":
        return f"the crews must rest {on.site.rules.rest_h:g} h; none is rested {when}"
    if reason == "week":
        most_h = on.site.rules.week_hours_max_h
        return f"no crew has enough left of the {most_h:g} h of its week {when}"
    if reason == "busy":
        return f"{what} takes {task.duration_min} min; every crew is at work {when}"
    if reason == "walk":
        return f"no crew can walk to {work.label} in time {when}"
    assert task.water is not None  # water is asked after only where it is drawn
    return _water_words(reason, task.water, work, span[0], on)


def _water_words(
    reason: Reason, need: WaterNeed, work: SurfaceWork, at: int, on: Around
) -> str:
    """Speak of the nearest water point; the others it reaches are no better off."""
    simulation, units = points_of(work, on)[0], on.site.units
    litres = show("volume", need.litres_l, units)
    when, name = on.clock.words(at), simulation.point.name
    if reason == "flow":
        flow = show("flow", need.flow_l_min, units)
        left = show(
            "flow", max(0.0, simulation.free_l_min[at] - simulation.drawn_l[at]), units
        )
        return f"{work.label} needs {flow} {when}; {name} has {left} free"
    if reason == "day":
        first, last = next((a, b) for a, b in simulation.days if a <= at < b)
        allotment = simulation.point.daily_allotment_l or 0.0
        curing_l = simulation.drawn_l[first:last] + simulation.automatic_l[first:last]
        spare = max(0.0, allotment - float(curing_l.sum()))
        left = show("volume", spare, units)
        return f"{work.label} needs {litres} {when}; {name} has {left} left that day"
    level = (
        0.0 if simulation.level_l is None else max(0.0, float(simulation.level_l[at]))
    )
    left = show("volume", level, units)
    return f"{work.label} needs {litres} {when}; {name} holds {left}"
