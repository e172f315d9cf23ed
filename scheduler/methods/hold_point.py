"""The hold point before placing: everything the curing needs is there."""

from models.records import Material, Task
from scheduler.methods.cautions import cautions
from scheduler.methods.protocol import Case, window


def hold_point(case: Case, kit: str) -> tuple[Task, ...]:
    """Ask for a look at everything the curing needs; none where placing has begun.

    Parameters
    ----------
    case : Case
        The top of the pour.
    kit : str
        What the method needs to have ready, in words.
    """
    if case.surface.face != "top" or case.placing_min <= 0 or not case.needs_cover:
        return ()
    needs_min = round(case.common["hold_point"])
    ahead_min = round(60 * case.common["hold_point_ahead"])
    earliest_min = max(0, case.placing_min - ahead_min)
    if earliest_min + needs_min > case.placing_min:
        return ()  # placing begins with the week; the look was due the day before
    when = window(earliest_min, case.placing_min, case.placing_min, needs_min)
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
            late_cost_per_min=case.costs.late_min,
            materials=(Material(name=kit, amount=case.area(case.surface.area_m2)),),
            tools=("pour sheet", "bucket and watch", "weather forecast"),
            steps=(
                f"See the {kit}: enough, whole, ready by hand.",
                "Measure the flow at the water point; see the tank level.",
                "Name who fogs, who covers and who comes tonight.",
                "Read the forecast: wind, heat, frost, rain; windbreak if asked for.",
                "Missing anything? Placing waits until the person in charge decides.",
            ),
            cautions=cautions("licensed", "traffic"),
            log_fields=("time", "ready or missing", "flow measured", "who"),
        ),
    )
