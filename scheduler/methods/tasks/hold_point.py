"""The hold point before placing: everything the curing needs is there."""

from collections.abc import Iterable

from models.records import Material, Task
from scheduler.methods.case.protocol import Case, window
from scheduler.methods.tasks.cautions import cautions


def hold_point(
    case: Case,
    kit: str,
    spares: str,
    first: Iterable[Task],
    extra: tuple[str, ...] = (),
) -> tuple[Task, ...]:
    """Ask for a look at everything the curing needs; none where placing has begun.

    Parameters
    ----------
    case : Case
        The top of the pour, under its first cover.
    kit, spares : str
        What the method needs to have ready, and what is brought twice.
    first : iterable of Task
        The tasks that cover the surface, for the water they draw.
    extra : tuple of str
        What this method asks for besides.
    """
    if case.stage or case.surface.face != "top":
        return ()
    if case.placing_min <= 0 or not case.needs_cover:
        return ()
    needs_min = round(case.common["hold_point"])
    ahead_min = round(60 * case.common["hold_point_ahead"])
    earliest_min = max(0, case.placing_min - ahead_min)
    if earliest_min + needs_min > case.placing_min:
        return ()  # placing begins with the week; the look was due the day before
    when = window(earliest_min, case.placing_min, case.placing_min, needs_min)
    litres_l = sum(task.water.litres_l for task in first if task.water)
    draws = f"{case.water(litres_l)} to begin with" if litres_l else "for the fog"
    return (
        Task(
            id=case.task_id("hold"),
            surface_id=case.surface.id,
            kind="hold_point",
            title="Ready to cure?",
            earliest_min=when.earliest_min,
            due_min=when.due_min,
            latest_min=when.latest_min,
            duration_min=needs_min,
            people=1,
            missed_cost=case.costs.missed_work,
            late_cost_per_min=case.costs.late_cost_per_min,
            materials=(Material(name=kit, amount=case.area(case.surface.area_m2)),),
            tools=("pour sheet", "bucket and watch", "weather forecast"),
            steps=(
                f"See the {kit}: enough, whole, by hand.",
                f"Spares by hand: {spares}.",
                f"Water, {draws}: measure the flow, see the tank level.",
                *extra,
                "Name who fogs, who covers, who comes tonight and at the weekend.",
                "Read the forecast: wind, heat, frost, rain; windbreak if asked for.",
                f"Approved: {case.profile.title}; method, materials, water.",
                "Missing anything? Placing waits until the person in charge decides.",
            ),
            cautions=cautions("licensed", "traffic"),
            log_fields=("time", "ready or missing", "flow measured", "who"),
        ),
    )


def in_water(case: Case, name: str) -> str:
    """Say since when covers lie in water to be ready for the surface."""
    since_min = case.ready_min - round(60 * case.soak_lead_h)
    return f"{name} in water since {case.clock.words(since_min)}"
