"""Pours become surfaces: the top, and what appears when forms are struck."""

from datetime import UTC, datetime, timedelta
from math import floor

from models.errors import InputError, Place, Problem
from models.records import (
    PARTS,
    Face,
    Grid,
    MethodKey,
    Pour,
    Reported,
    Site,
    SiteInput,
    Surface,
)
from scheduler.methods.case.method_table import first_cover, methods
from scheduler.methods.chains.registry import planned

STEP_MIN = 10
#: Beyond the horizon, so that the end of most curing in it is seen. [d]
_DAYS_AFTER = 10


def surfaces_of(site_input: SiteInput) -> tuple[Surface, ...]:
    """Every surface that the horizon sees, in the order of the pours.

    Formed faces count as upright: the sides of a pour; a soffit is worked on overhead
    and sees as little sun.
    """
    reported = {one.surface_id: one for one in site_input.reported}
    return tuple(
        planned(_as_reported(surface, reported.get(surface.id)), pour, site_input)
        for pour in site_input.pours
        if pour.placing_starts_at < site_input.horizon.ends_at
        for surface in _of(pour, site_input.site)
    )


def _as_reported(surface: Surface, reported: Reported | None) -> Surface:
    if reported is None:
        return surface
    fields: dict[str, object] = {
        "took_cover_at": reported.took_cover_at,
        "loss_factors": reported.loss_factors,
    }
    if reported.covered_at is not None:
        fields["covered_at"] = reported.covered_at
        fields["wetted_at"] = reported.wetted_at
    return surface.model_copy(update=fields)


def _of(pour: Pour, site: Site) -> list[Surface]:
    """Give the top of a pour, then its edges and formed faces where it has them."""
    zone = next(zone.name for zone in site.zones if zone.id == pour.zone_id)

    def surface(
        face: Face, method: MethodKey, area_m2: float, exposed_at: datetime
    ) -> Surface:
        facts, part, top = methods()[method], PARTS[face], face == "top"
        return Surface(
            id=f"{pour.id}-{part}",
            label=f"{pour.id} {zone}, {part}",
            pour_id=pour.id,
            zone_id=pour.zone_id,
            face=face,
            element=pour.element,
            area_m2=area_m2,
            thickness_mm=pour.thickness_mm,
            vertical=not top,
            exposure=pour.exposure,
            method=method,
            rule_kind=facts.rule_kind,
            cover=first_cover(method, site),
            cover_from=facts.waits_for,
            mix_id=pour.mix_id,
            profile_id=pour.profile or site.profile,
            receives=pour.receives,
            risk=pour.risk,
            placing_temperature_c=pour.placing_temperature_c,
            placing_starts_at=pour.placing_starts_at,
            placing_ends_at=pour.placing_ends_at,
            exposed_at=exposed_at,
            covered_at=pour.covered_at if top else None,
            wetted_at=pour.wetted_at if top else None,
        )

    found = [surface("top", pour.method, pour.area_m2, pour.placing_ends_at)]
    if pour.edge_area_m2 and pour.edge_method and pour.edge_strike_at:
        edges = pour.edge_method, pour.edge_area_m2, pour.edge_strike_at
        found.append(surface("edges", *edges))
    if pour.formed_area_m2 and pour.formed_method and pour.strike_at:
        faces = pour.formed_method, pour.formed_area_m2, pour.strike_at
        found.append(surface("formed", *faces))
    return found


def planning_grid(site_input: SiteInput) -> Grid:
    """Lay steps from the first placing, or the horizon, until most curing has ended.

    Raises
    ------
    InputError
        If the weather does not reach from the first placing to the end of the horizon.
    """
    horizon, hours = site_input.horizon, site_input.weather.hours
    begins_at = hours[0].at.astimezone(UTC)
    ends_at = hours[-1].at.astimezone(UTC) + timedelta(hours=1)
    placings = [p.placing_starts_at for p in site_input.pours]
    first_at = min([*placings, horizon.starts_at]).astimezone(UTC)
    problems = []
    if first_at < begins_at:
        problems.append(
            Problem(
                Place("weather"),
                "time",
                f"weather from {_words(begins_at)}",
                f"weather from {_words(first_at)}, the first placing or planned minute",
            )
        )
    if ends_at < horizon.ends_at:
        problems.append(
            Problem(
                Place("weather"),
                "time",
                f"weather until {_words(ends_at)}",
                f"weather until {_words(horizon.ends_at)}, the end of the plan",
            )
        )
    if problems:
        raise InputError(problems)
    # Full hours as the weather has them: in some zones they are not those of UTC.
    hour = timedelta(hours=1)
    starts_at = begins_at + floor((first_at - begins_at) / hour) * hour
    until_at = min(ends_at, horizon.ends_at + timedelta(days=_DAYS_AFTER))
    steps = int((until_at - starts_at) // timedelta(minutes=STEP_MIN))
    return Grid(starts_at=starts_at, step_min=STEP_MIN, steps=steps)


def _words(at: datetime) -> str:
    return f"{at.astimezone(UTC):%Y-%m-%d %H:%M} UTC"
