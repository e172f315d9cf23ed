"""Fog on a fresh surface: initial protection until its cover or compound is on."""

from models.records import Stretch, Task
from scheduler.methods.case.protocol import Case, Chain, Window
from scheduler.methods.resources.stretches import merge, split
from scheduler.methods.tasks.builder import LAYING, Brief, build_task, water_brought
from scheduler.methods.tasks.labour import Labour, labour_of_fog


class Fogging:
    """Fog in stints, by people who do nothing else meanwhile."""

    def chain(self, case: Case) -> Chain:
        """Ask for stints while the surface needs fog, and while the cover is late.

        A stint has a fixed time: fog at another time is no use. Stints break where
        shifts and breaks do, so that relief can take over. Dryness prices them, so
        leaving one out costs nothing of its own.
        """
        if case.surface.vertical or not case.needs_cover:
            return Chain(tasks=(), covered_min=case.ready_min)
        stints = [s for stretch in _stretches(case) for s in _stints(case, stretch)]
        tasks = tuple(
            task
            for number, stint in enumerate(stints, start=1)
            for task in _stint_tasks(case, number, stint)
        )
        return Chain(tasks=tasks, covered_min=case.ready_min)


def _stretches(case: Case) -> tuple[Stretch, ...]:
    """Give when fog is needed, and for some hours when the cover is late.

    A surface that waits for compound gets no more water once its sheen has gone, and
    none gets any near frost. Heat bans are stretches of their own: stints end at them
    and begin anew behind them, and again where the cover can go on: who fogs may then
    lay.
    """
    wanted = list(case.fog_needed)
    until_min = case.fog_until_min
    if case.surface.cover_from != "sheen_gone":
        until_min = case.ready_min + round(60 * case.table["fogging"]["after_ready"])
        if until_min > case.late_min:
            wanted.append(Stretch(from_min=case.late_min, until_min=until_min))
    from_min = max(0, case.exposed_min)
    frost = case.no_warmer_than(case.table["fogging"].by_name["min_air"].low)
    edges = [m for b in case.gangs.heat_bans for m in (b.from_min, b.until_min)]
    edges += [m for cold in frost for m in (cold.from_min, cold.until_min)]
    edges.append(case.ready_min)
    return tuple(
        part
        for stretch in merge(wanted, from_min, min(until_min, case.horizon_min))
        for part in split(stretch, edges)
        if not any(cold.from_min <= part.from_min < cold.until_min for cold in frost)
    )


def _stint_tasks(case: Case, number: int, stint: Stretch) -> tuple[Task, ...]:
    """Staff one stint, the first of its surface 1, a task for each party."""
    parties = labour_of_fog(case, stint)
    several = len(parties) > 1
    return tuple(
        _stint_task(case, f"fog-{number}-{k}" if several else f"fog-{number}", stint, p)
        for k, p in enumerate(parties, start=1)
    )


def _stint_task(case: Case, name: str, stint: Stretch, work: Labour) -> Task:
    """Ask a party to keep its part of the surface damp."""
    whole_m2 = case.surface.area_m2
    share_fraction = min(1.0, work.area_m2 / whole_m2)
    share = f"Keep {case.area(work.area_m2)} of {case.area(whole_m2)} damp; others fog "
    night = case.calendar.is_night(stint.from_min)
    brief = Brief(
        title="Fog the fresh surface",
        steps=(
            *((f"{share}the rest.",) if share_fraction < 1 else ()),
            "Fog above the surface, never at it; no garden nozzle.",
            "Keep it dull and damp: no puddles, no drips into the finish.",
            "Stay on it: this is your only job until relief is beside you.",
            "Stop when the cover goes on, not before.",
        ),
        hazards=("night", "cement") if night else ("cement", "weather"),
        tools=("fog nozzle and wand", "spare nozzle", "pump, 2 bar or more"),
        log_fields=("start", "stop", "surface seen", "wind", "initials"),
    )
    return build_task(
        case,
        "fog",
        name,
        brief,
        Window(stint.from_min, stint.until_min, stint.until_min),
        work,
        skill="fogger",
        effect="protect",
        share_fraction=share_fraction,
        job=LAYING,
        materials=water_brought(work),
    )


def _stints(case: Case, stretch: Stretch) -> list[Stretch]:
    """Cut a stretch at shift ends and breaks, then by the length of a stint."""
    fog = case.table["fogging"]
    longest, shortest = round(fog["stint"]), round(fog["shortest_stint"])
    cuts = [*case.gangs.cuts("fogger", stretch.from_min, stretch.until_min)]
    stints = []
    start = stretch.from_min
    while start < stretch.until_min:
        end = min(start + longest, stretch.until_min)
        end = next((c for c in cuts if start + shortest <= c < end), end)
        if stretch.until_min - end < shortest:  # no scrap at the end
            end = stretch.until_min
        stints.append(Stretch(from_min=start, until_min=end))
        start = end
    return stints
