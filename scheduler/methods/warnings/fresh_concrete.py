"""What the forecast does to fresh concrete: rain on it, air too cold, it too warm.

Said before the pour, while sheets can be fetched, the mix changed or the day moved.
"""

from collections.abc import Iterator

from models.profiles.period import fits
from models.quantities import show
from models.records import Finding, SiteInput, WeatherHour
from scheduler.methods.case.protocol import Case, Chain

Hours = list[tuple[int, WeatherHour]]


def rain_on_fresh(site_input: SiteInput, case: Case, chain: Chain) -> Iterator[Finding]:
    """Say so if rain is forecast on a top that neither cover nor strength shelters yet.

    From the start of placing until the cover is on, or until rain does little; a rule
    that keeps it off for longer asks for a cover that does.
    """
    surface, figures = case.surface, case.common.by_name
    to_come = case.needs_cover and not case.stage and case.placing_min >= 0
    if surface.face != "top" or surface.exposure != "open" or not to_come:
        return
    hours_h = case.profile.rain_off_h or figures["rain_on_fresh"].typical
    until_min = case.exposed_min + round(60 * hours_h)
    shelters = not surface.cover.takes_rain or case.profile.rain_off_h is None
    if shelters:
        until_min = min(until_min, max(chain.covered_min, case.exposed_min))
    wet = [
        (minute, hour)
        for minute, hour in _between(site_input, case.placing_min, until_min)
        if hour.rain_mm >= figures["rain_from"].typical
    ]
    if not wet:
        return
    first, last = wet[0][0], wet[-1][0] + 60
    fallen = sum(hour.rain_mm for _, hour in wet)
    practice = figures["rain_on_fresh"]
    source = (
        f"{hours_h:g} h: {case.profile.title}"
        if case.profile.rain_off_h
        else f"{practice.source}; {practice.how}"
    )
    when = case.clock.span(first, last)
    rain = show("rain", fallen, case.units)
    yield Finding(
        kind="weather",
        words=(
            f"{rain} of rain forecast on the fresh surface {when}; "
            f"keep sheets on frames at hand or pour another day ({source})"
        ),
        starts_at=site_input.horizon.at(max(0, first)),
        ends_at=site_input.horizon.at(last),
        surface_id=surface.id,
    )


def placed_too_cold_or_warm(site_input: SiteInput, case: Case) -> Iterator[Finding]:
    """Hold the concrete as it comes against its rule and the air it is placed in."""
    if case.surface.face != "top" or case.stage or case.placing_min < 0:
        return
    concrete_c, profile = case.surface.placing_temperature_c, case.profile
    hours = _between(site_input, case.placing_min, case.exposed_min)
    coldest = min(hours, key=lambda h: h[1].air_temperature_c, default=None)
    if coldest is None:
        return
    at_min, hour = coldest
    rows = [
        row
        for row in profile.placing
        if fits(row, case.mix, case.surface)
        and (row.air_below_c is None or hour.air_temperature_c < row.air_below_c)
        and (
            row.cement_below_kg_m3 is None
            or case.mix.cement_kg_m3 < row.cement_below_kg_m3
        )
    ]
    row = max(rows, key=lambda row: row.minimum_c, default=None)
    comes = f"concrete delivered at {case.degrees(concrete_c)}"
    if row is not None and concrete_c < row.minimum_c:
        air = case.degrees(hour.air_temperature_c)
        yield _placed(
            site_input,
            case,
            f"{comes}, air {air} forecast {case.clock.words(at_min)}; needs "
            f"{case.degrees(row.minimum_c)} or more ({row.clause}; {row.how})",
        )
    if profile.placing_max_c is not None and concrete_c > profile.placing_max_c:
        mark = profile.marks["placing_max_c"]
        yield _placed(
            site_input,
            case,
            f"{comes} {case.clock.words(case.placing_min)}; limit is "
            f"{case.degrees(profile.placing_max_c)} ({mark.clause}; {mark.how})",
        )


def _placed(site_input: SiteInput, case: Case, words: str) -> Finding:
    return Finding(
        kind="temperature",
        words=words,
        starts_at=site_input.horizon.at(max(0, case.placing_min)),
        ends_at=site_input.horizon.at(max(1, case.exposed_min)),
        surface_id=case.surface.id,
    )


def _between(site_input: SiteInput, from_min: int, until_min: int) -> Hours:
    """Hours of weather that touch a stretch, with their minutes."""
    minute = site_input.horizon.minute
    return [
        (minute(hour.at), hour)
        for hour in site_input.weather.hours
        if from_min - 60 < minute(hour.at) < until_min
    ]
