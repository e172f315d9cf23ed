"""The hold point before placing: everything the curing needs is there."""

from collections.abc import Iterable
from dataclasses import dataclass

from models.profiles.period import fits
from models.records import Material, Task
from scheduler.methods.case.protocol import Case, Window
from scheduler.methods.tasks.builder import Brief, build_task
from scheduler.methods.tasks.labour import one_person


@dataclass(frozen=True)
class Kit:
    """What a method needs to have ready before placing.

    Attributes
    ----------
    things : str
        Covers and what goes with them.
    spares : str
        What is brought twice.
    checks : tuple of str
        What this method asks for besides.
    """

    things: str
    spares: str
    checks: tuple[str, ...] = ()


def hold_point(case: Case, kit: Kit, first: Iterable[Task]) -> tuple[Task, ...]:
    """Ask to check all that the curing needs; nobody where placing has begun.

    Parameters
    ----------
    case : Case
        The top of the pour, under its first cover.
    kit : Kit
        What the method needs.
    first : iterable of Task
        The tasks that cover the surface, for the water they draw.
    """
    if case.stage or case.surface.face != "top":
        return ()
    if case.placing_min <= 0 or not case.needs_cover:
        return ()
    work = one_person(case, case.common["hold_point"])
    ahead_min = round(60 * case.common["hold_point_ahead"])
    earliest_min = max(0, case.placing_min - ahead_min)
    if earliest_min + work.duration_min > case.placing_min:
        return ()  # placing begins with the week; the check was due the day before
    litres_l = sum(task.water.litres_l for task in first if task.water)
    draws = f"{case.water(litres_l)} to begin with" if litres_l else "for the fog"
    brief = Brief(
        title="Pre-pour curing check",
        steps=(
            f"Check the {kit.things}: enough and undamaged.",
            f"Spares in reach: {kit.spares}.",
            f"Water, {draws}: measure the flow, check the tank level.",
            *kit.checks,
            *_kept_off(case),
            "Name who fogs, who covers, who comes tonight and at the weekend.",
            "Read the forecast: wind, heat, frost, rain; windbreak if asked for.",
            f"Approved: {case.profile.title}; method, materials, water.",
            "Missing anything? Placing waits until the person in charge decides.",
        ),
        hazards=("licensed", "traffic"),
        tools=("pour sheet", "bucket and watch", "weather forecast"),
        log_fields=("time", "ready or missing", "flow measured", "who"),
    )
    return (
        build_task(
            case,
            "hold_point",
            "hold",
            brief,
            Window(earliest_min, case.placing_min, case.placing_min),
            work,
            materials=(Material(name=kit.things, area_m2=case.surface.area_m2),),
        ),
    )


def _kept_off(case: Case) -> tuple[str, ...]:
    """Say for how long the rule keeps rain and flowing water off."""
    rows = case.profile.flowing_water
    row = next((row for row in rows if fits(row, case.mix, case.surface)), None)
    rain_h = case.profile.rain_off_h
    rain = f"rain for {rain_h:g} h" if rain_h else ""
    flowing = f"flowing water for {row.days:g} days" if row else ""
    both = ", ".join(part for part in (rain, flowing) if part)
    return (f"Kept off it: {both} ({case.profile.title}).",) if both else ()


def soaked_name(case: Case, name: str) -> str:
    """Say how long covers have to lie in water before they are laid."""
    lead_min = case.soak_lead_min
    return f"{name}, soaked {lead_min / 60:g} h" if lead_min else name
