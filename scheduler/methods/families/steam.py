"""Live steam at atmospheric pressure: delay, rise, hold, fall, then moist curing."""

from collections.abc import Iterator
from datetime import datetime, timedelta
from typing import Literal

from models.records import (
    CoverStage,
    Pour,
    Profile,
    SiteInput,
    SteamCycle,
    Stretch,
    Surface,
    Task,
)
from scheduler.methods.case.figures import Figures, figures_for
from scheduler.methods.case.final_set import final_set_at
from scheduler.methods.case.method_table import first_cover, methods
from scheduler.methods.case.protocol import (
    Case,
    Chain,
    Window,
    end_min,
    lies_by,
    links,
)
from scheduler.methods.resources.stretches import clip, merge
from scheduler.methods.tasks.builder import Brief, build_task
from scheduler.methods.tasks.covering import (
    Laying,
    covered_from_min,
    last_of,
    lay_cover,
)
from scheduler.methods.tasks.hold_point import Kit, hold_point
from scheduler.methods.tasks.inspections import (
    Inspection,
    build_inspection,
    inspection_min,
    inspections_per_shift,
)
from scheduler.methods.tasks.labour import Workload, one_person
from scheduler.methods.tasks.removal import removal

#: For setting the enclosure up once the surface takes it. [h]
_ENCLOSING_H = 2
_LATE_MIN = 120


def steamed(surface: Surface, pour: Pour, site_input: SiteInput) -> Surface:
    """Plan the steam cycle of a surface, and the moist cover after it."""
    follows = methods()[surface.method].then_method
    if follows is None:
        return surface
    site = site_input.site
    figures = figures_for(site.rates)[surface.method]
    delayed_at = pour.placing_ends_at + timedelta(hours=figures["delay"])
    sets_at = final_set_at(surface, site_input)
    starts_at = max(delayed_at, sets_at) + timedelta(hours=_ENCLOSING_H)
    hold_c = hold_temperature_c(figures, site_input.profiles[surface.profile_id])
    rise_h = max(0.0, hold_c - _air_c(site_input, starts_at)) / figures["rise"]
    hold_from_at = starts_at + timedelta(hours=rise_h)
    hold_until_at = hold_from_at + timedelta(hours=figures["hold_time"])
    fall_h = max(0.0, hold_c - _air_c(site_input, hold_until_at)) / figures["fall"]
    cycle = SteamCycle(
        starts_at=starts_at,
        hold_from_at=hold_from_at,
        hold_until_at=hold_until_at,
        ends_at=hold_until_at + timedelta(hours=fall_h),
        hold_c=hold_c,
    )
    moist = CoverStage(
        method=follows,
        cover=first_cover(follows, site),
        starts_at=cycle.ends_at,
        reason="steam is over and the concrete cool again: moist curing follows",
    )
    return surface.model_copy(update={"steam": cycle, "later": (moist,)})


def hold_temperature_c(figures: Figures, profile: Profile) -> float:
    """Hold of the cycle: the site's figure, never above the profile's limit [°C]."""
    limit_c = profile.steam_max_c or _COMMON_LIMIT_C
    return min(figures["hold"], limit_c)


#: Where the profile names none: common practice, no source. [°C]
_COMMON_LIMIT_C = 60.0


def _air_c(site_input: SiteInput, at: datetime) -> float:
    """Air temperature of the hour nearest to an instant [°C]."""
    hours = site_input.weather.hours
    return min(hours, key=lambda h: abs(h.at - at)).air_temperature_c


class LiveSteam:
    """An enclosure, a cycle watched by the hour, then the next cover's own chain."""

    def chain(self, case: Case) -> Chain:
        """Ask for the hold point, enclosure, steam on, hourly readings, steam off."""
        laid = _enclose(case)
        covered_min = covered_from_min(case, laid)
        on = _switch(case, "on", last_of(laid))
        off = _switch(case, "off", last_of(on))
        kit = Kit(
            things="enclosure, boiler, traps, recorder and probes",
            spares="probes, chart paper, traps",
            checks=("Licensed operator named for every shift of the cycle.",),
        )
        return Chain(
            tasks=(
                *hold_point(case, kit, laid),
                *laid,
                *on,
                *_readings(case, last_of(on)),
                *off,
                *inspections_per_shift(case, covered_min, _AROUND, last_of(laid)),
                *removal(case, loosen_first=False, after=lies_by(case, laid)),
            ),
            covered_min=covered_min,
            laid=last_of((*laid, *off)),
        )


def _enclose(case: Case) -> tuple[Task, ...]:
    """Set the enclosure up, as a cover of its own."""
    job = Workload(
        rates_m2_h=(case.figures["enclose"],),
        people=case.figures.people("enclose_people"),
        target_min=case.common["job_target"],
    )
    laying = Laying(
        title="Set up the steam enclosure",
        ready="Fog or wet the face; frame clear of it on all sides.",
        lay=(
            "Tarpaulin tight to the ground and lapped: wind must not blow through.",
            "Steam enters low and never at the concrete; drains at low points.",
        ),
        finish="Probes in the air, at the face and in the core; recorder running.",
        tools=("frame", "tarpaulins", "probes", "recorder"),
        hazards=("licensed", "edges"),
    )
    return lay_cover(case, job, laying)


def _switch(
    case: Case, way: Literal["on", "off"], before: Task | None
) -> tuple[Task, ...]:
    """Turn the steam on, or off at the end of the hold."""
    at_min = case.steam_min[0] if way == "on" else case.steam_min[2]
    if at_min < 0 or at_min > case.horizon_min:
        return ()
    starts_min = max(at_min, end_min(before))
    brief = Brief(
        title="Steam on" if way == "on" else "Steam off, cool down",
        steps=_on_steps(case) if way == "on" else _off_steps(case),
        hazards=("licensed", "scald"),
        tools=("recorder", "gloves and face shield", "thermometer"),
        log_fields=("time", "chamber", "face", "core", "air", "initials"),
    )
    return (
        build_task(
            case,
            "start_steam" if way == "on" else "end_steam",
            f"steam-{way}",
            brief,
            Window(starts_min, starts_min + 60, starts_min + _LATE_MIN),
            one_person(case, 3 * case.figures["reading"]),
            skill="steam_operator",
            after=links(before),
        ),
    )


def _on_steps(case: Case) -> tuple[str, ...]:
    """Say how to turn the steam on, with the limits of the rise."""
    hold_c = case.surface.steam.hold_c if case.surface.steam else 0.0
    rise = case.kelvin(case.figures["rise"])
    return (
        f"Set? At least {case.figures['delay']:g} h since placing: else wait and call.",
        "Boiler, valves, traps: the licensed operator alone. Nobody inside.",
        f"Rise at most {rise} an hour, to {case.degrees(hold_c)}; never above.",
        "Record the reading; next one in an hour.",
    )


def _off_steps(case: Case) -> tuple[str, ...]:
    """Say how to turn the steam off, with the limit of the fall."""
    fall = case.kelvin(case.figures["fall"])
    return (
        "Strength shown as the specification asks? Else hold, call the lead.",
        f"Fall at most {fall} an hour, closed up; isolate and drain the line.",
        "Nobody lifts the enclosure before it is cool and drained.",
    )


def _readings(case: Case, on: Task | None) -> Iterator[Task]:
    """One reading an hour from steam on to cool, where an operator is on shift."""
    for number, hour in enumerate(_hours(case), start=1):
        if _operated(case, hour):
            yield build_inspection(case, f"reading/{number:02}", hour, _READING, on)


def unwatched(case: Case) -> tuple[Stretch, ...]:
    """Give the stretches of a cycle in which nobody licensed is on shift."""
    alone = (hour for hour in _hours(case) if not _operated(case, hour))
    return merge(alone, 0, case.horizon_min)


def _hours(case: Case) -> Iterator[Stretch]:
    """Yield the hours of the cycle, from steam on to cool, that lie in the plan."""
    if not case.steam_min:
        return
    every_min = round(60 * case.figures["reading_every"])
    for at_min in range(case.steam_min[0], case.steam_min[3], every_min):
        if at_min >= 0 and at_min + every_min <= case.horizon_min:
            yield Stretch(from_min=at_min, until_min=at_min + every_min)


def _operated(case: Case, hour: Stretch) -> bool:
    """Whether an operator's shift leaves time for a reading in an hour."""
    needs_min = inspection_min(case)
    parts = (
        clip(hour, shift.starts_min, shift.ends_min)
        for shift in case.gangs.shifts
        if "steam_operator" in shift.skills and shift.kind == "shift"
    )
    return any(p and p.until_min - p.from_min >= 2 * needs_min for p in parts)


_READING = Inspection(
    kind="steam_watch",
    waits_min=0,
    title="Read the steam chart",
    skill="steam_operator",
    tools=("chart", "thermometer"),
    steps=(
        "Chamber, face, core, air: write them beside the chart.",
        "Above the limit or rising too fast: throttle, record it, call.",
        "Wet all over? Leaks, drips, steam on the face, condensate drained?",
    ),
    log_fields=("time", "chamber", "face", "core", "air", "initials"),
)
_AROUND = Inspection(
    title="Walk round the enclosure",
    steps=(
        "Walk round it: torn, lifted, blowing? Keep out, keep others out.",
        "Barrier and signs up; nobody inside.",
        "Anything open: call the operator before touching it.",
    ),
    log_fields=("time", "enclosure", "barrier", "initials"),
)
