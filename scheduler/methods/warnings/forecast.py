"""Where the forecast leaves the limits of a method, in the hours that matter to it."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from models.drying.surroundings import WIND_FRACTION
from models.local_clock import WeekClock
from models.quantities import Units, show
from models.records import Finding, SiteInput, WeatherHour
from scheduler.methods.case.figures import Figure
from scheduler.methods.case.protocol import Case, Chain

_DAY_MIN = 24 * 60


@dataclass(frozen=True)
class ForecastLimit:
    """One limit over a stretch of time.

    Attributes
    ----------
    beyond : callable
        Tells whether an hour breaks it.
    found : callable
        What is worst in an hour; of several hours the one with most is named.
    """

    figure: Figure
    from_min: int
    until_min: int
    wants: str
    beyond: Callable[[WeatherHour], bool]
    badness: Callable[[WeatherHour], float]
    found: Callable[[WeatherHour], str]


def forecast_limits(
    site_input: SiteInput, case: Case, chain: Chain
) -> Iterator[Finding]:
    """Say once for each limit of a surface when the forecast breaks it.

    The words leave out the surface: the same weather often hits several.
    """
    clock = WeekClock(site_input.site.timezone, site_input.horizon)
    for limit in _limits(case, chain):
        first = max(0, limit.from_min)
        last = min(limit.until_min, case.horizon_min)
        hours = [
            (minute, hour)
            for hour in site_input.weather.hours
            if first - 60 < (minute := site_input.horizon.minute(hour.at)) < last
            and limit.beyond(hour)
        ]
        if first >= last or not hours:
            continue
        at_min, worst = max(hours, key=lambda h: limit.badness(h[1]))
        yield Finding(
            kind="temperature",
            words=(
                f"{limit.found(worst)} {clock.words(at_min)}; {limit.wants} "
                f"({limit.figure.source}; {limit.figure.how})"
            ),
            starts_at=site_input.horizon.at(max(0, hours[0][0])),
            ends_at=site_input.horizon.at(hours[-1][0] + 60),
            surface_id=case.surface.id,
        )


def _limits(case: Case, chain: Chain) -> Iterator[ForecastLimit]:
    """Yield the limits of a stage, each with the time in which it matters."""
    figures, units, name = case.figures.by_name, case.units, case.cover_name
    laying = (case.ready_min, max(chain.covered_min, case.ready_min + 60))
    lying = (chain.covered_min, case.ends_min)
    film = case.surface.cover.form == "film"
    share = WIND_FRACTION[case.surface.exposure]
    if case.needs_cover:
        if "max_wind" in figures:
            yield _wind(figures["max_wind"], laying, share, case, name)
        if case.fog_needed and not case.surface.vertical and not case.stage:
            fog = case.table["fogging"].by_name
            fogging = (case.exposed_min, case.ready_min)
            yield _wind(fog["max_wind"], fogging, share, case, "fog")
            none = show("temperature", fog["min_air"].low, units)
            yield _cold(fog["min_air"], fogging, units, f"none from {none} down; fog")
    if "max_wind_on" in figures:
        yield _wind(figures["max_wind_on"], lying, share, case, name)
    if "min_air" in figures:
        wet = laying if film else lying
        yield _cold(figures["min_air"], wet, units, name)
    if "max_air_on" in figures:
        yield _hot(figures["max_air_on"], lying, units, name)
    if "max_air_in_forms" in figures and case.needs_cover:
        in_forms = (case.placing_min, case.exposed_min)
        yield _hot(figures["max_air_in_forms"], in_forms, units, "a face in forms")
    if film and case.needs_cover:
        yield _hot(figures["max_air"], laying, units, "compound")
        if case.surface.exposure == "open":
            watch_min = round(60 * figures["rain_watch"].typical)
            dry = (case.ready_min, chain.covered_min + watch_min)
            yield _rain(figures["rain_watch"], dry, units)
    if "shade_from" in figures and case.surface.exposure == "open":
        shade = (case.ready_min, case.ready_min + 3 * _DAY_MIN)
        yield _sun(figures["shade_from"], shade, units)


def _wind(
    limit: Figure, when: tuple[int, int], share: float, case: Case, who: str
) -> ForecastLimit:
    """Limit the wind as it reaches the surface, shelter counted."""
    most = show("speed", limit.typical, case.units)
    return ForecastLimit(
        limit, *when, f"limit for {who} is {most}: put up a windbreak",
        lambda h: share * h.wind_m_s > limit.typical,
        lambda h: h.wind_m_s,
        lambda h: f"wind {show('speed', share * h.wind_m_s, case.units)} forecast",
    )  # fmt: skip


def _cold(
    limit: Figure, when: tuple[int, int], units: Units, who: str
) -> ForecastLimit:
    least = show("temperature", limit.typical, units)
    return ForecastLimit(
        limit, *when, f"{who} needs {least} or more",
        lambda h: h.air_temperature_c < limit.typical,
        lambda h: -h.air_temperature_c,
        lambda h: f"{show('temperature', h.air_temperature_c, units)} forecast",
    )  # fmt: skip


def _hot(limit: Figure, when: tuple[int, int], units: Units, who: str) -> ForecastLimit:
    most = show("temperature", limit.typical, units)
    return ForecastLimit(
        limit, *when, f"limit for {who} is {most}",
        lambda h: h.air_temperature_c > limit.typical,
        lambda h: h.air_temperature_c,
        lambda h: f"{show('temperature', h.air_temperature_c, units)} forecast",
    )  # fmt: skip


def _rain(limit: Figure, when: tuple[int, int], units: Units) -> ForecastLimit:
    return ForecastLimit(
        limit, *when, "it would wash off fresh compound, which is then sprayed again",
        lambda h: h.rain_mm > 0,
        lambda h: h.rain_mm,
        lambda h: f"{show('rain', h.rain_mm, units)} of rain forecast",
    )  # fmt: skip


def _sun(limit: Figure, when: tuple[int, int], units: Units) -> ForecastLimit:
    return ForecastLimit(
        limit, *when, "shade clear compound or use white",
        lambda h: h.air_temperature_c >= limit.typical and h.solar_w_m2 > 0,
        lambda h: h.air_temperature_c,
        lambda h: f"sun and {show('temperature', h.air_temperature_c, units)} forecast",
    )  # fmt: skip
