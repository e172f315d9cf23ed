"""In which minutes the stock would bear the covers that a piece of work lays."""

import numpy as np

from models.drying.covers import soak_lead_min
from models.quantities import show
from models.records import Floats, Surface, Task
from scheduler.audit.causes.crews import Flags, Minutes
from scheduler.audit.replayed.around import Around, Reason
from scheduler.audit.replayed.covers import StockSimulation


def cover_reasons(
    task: Task, starts: Minutes, on: Around
) -> list[tuple[Reason, Flags]]:
    """Tell at which starts there are covers; nothing where the task lays none."""
    simulation, surface = _laid_from(task, on)
    if simulation is None or surface is None:
        return []
    short = (
        _taken_m2(simulation, surface, on) + surface.area_m2
        > simulation.stock.stock_m2 + 1e-6
    )
    own = [use.until_min for use in simulation.laid if use.surface is surface]
    short[min(own, default=len(short)) :] = False
    # From the back: covers are wanted from their soaking to the end.
    soaks = np.clip(starts - soak_lead_min(simulation.stock), 0, len(short))
    over = np.flatnonzero(short)
    return [("stock", soaks > (over[-1] if len(over) else -1))]


def stock_words(task: Task, at: int, on: Around) -> str:
    """Say how much is wanted and how much is free when it would have to be taken."""
    simulation, surface = _laid_from(task, on)
    assert simulation is not None  # covers are asked after only where they are laid
    assert surface is not None
    from_min = max(0, at - soak_lead_min(simulation.stock))
    units = on.site.units
    free = show("area", max(0.0, simulation.free_m2(surface, from_min)), units)
    return (
        f"{surface.label} wants {show('area', surface.area_m2, units)} of "
        f"{simulation.title.lower()} {on.clock.words(at)}; {free} free "
        f"{on.clock.words(from_min)}"
    )


def _laid_from(task: Task, on: Around) -> tuple[StockSimulation | None, Surface | None]:
    for simulation in on.covers:
        for surface, tasks in simulation.asked:
            if any(task.id == one.id for one in tasks):
                return simulation, surface
    return None, None


def _taken_m2(simulation: StockSimulation, surface: Surface, on: Around) -> Floats:
    """Area that other surfaces have, minute by minute."""
    taken = np.zeros(on.clock.horizon.length_min)
    for use in simulation.laid:
        if use.surface is not surface:
            taken[use.from_min : max(0, use.until_min)] += use.surface.area_m2
    return taken
