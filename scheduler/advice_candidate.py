"""One method on one surface, judged: what it takes, what it costs, what to mind."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from models.quantities import show
from models.records import (
    Candidate,
    SiteInput,
    Stretch,
    Supply,
    Surface,
    SurfaceWork,
    WorkList,
)
from scheduler.advise.estimate import Estimate, estimate
from scheduler.advise.lasting import lasting
from scheduler.advise.supplies import supplies_of
from scheduler.advise.words import Naming, sentence
from scheduler.methods.cases import Cases
from scheduler.methods.cold_water import cold_water
from scheduler.methods.cover_stock import covers_short
from scheduler.methods.forecast import forecast_limits
from scheduler.methods.hands import too_few_hands
from scheduler.methods.local_clock import LocalClock
from scheduler.methods.protocol import Case, Chain
from scheduler.methods.registry import METHODS
from scheduler.workflow import Clocked


@dataclass(frozen=True)
class Judge:
    """What all candidates of a site share."""

    clocked: Clocked
    work: WorkList
    cases: Cases

    def candidate(
        self, surface: Surface, work: SurfaceWork, *, planned: bool
    ) -> Candidate:
        """Judge one version by itself."""
        site_input = self.clocked.site_input
        case = self.cases.of(surface)
        chain = METHODS[surface.method].chain(case)
        nights = self.cases.calendar.nights
        found = estimate(self.work, work, nights)
        lasts = lasting(work, found.covered_min, self._horizon_min, nights)
        supplies = supplies_of(work.tasks)
        longest, at = found.longest_dry, site_input.horizon.at
        outside_h = _outside_h(site_input, case, chain)
        return Candidate(
            rank=1,
            method=surface.method,
            title=surface.cover.title,
            planned=planned,
            cost=round(found.cost, 2),
            cost_by_part={k: round(v, 2) for k, v in found.cost_by_part.items()},
            dry_min=found.dry_min,
            longest_dry_from_at=at(longest.from_min) if longest else None,
            longest_dry_until_at=at(longest.until_min) if longest else None,
            visits=len(found.stays),
            rewets=found.rewets,
            night_rewets=found.night_rewets,
            missed=tuple(task.title for task in found.missed),
            crew_h=round(found.crew_min / 60, 2),
            water_l=round(found.water_l, 1),
            supplies=supplies,
            lasts_day_h=lasts.day_h,
            lasts_night_h=lasts.night_h,
            outside_h=outside_h,
            hottest_c=_hottest_c(self.clocked, case),
            words=sentence(
                found, lasts, work.rewet is not None, outside_h, self._naming(longest)
            ),
            cautions=self._cautions(case, chain, found, supplies),
        )

    @property
    def _horizon_min(self) -> int:
        return self.work.horizon.length_min

    def _naming(self, longest: Stretch | None) -> Naming:
        site = self.clocked.site_input.site
        clock = LocalClock(site.timezone, self.work.horizon)
        dry = (
            f"{clock.words(longest.from_min)} to {clock.words(longest.until_min)}"
            if longest
            else ""
        )
        night = f"{site.night_starts:%H:%M} to {site.night_ends:%H:%M}"
        return Naming(units=site.units, night=night, longest_dry=dry)

    def _cautions(
        self, case: Case, chain: Chain, found: Estimate, supplies: Sequence[Supply]
    ) -> tuple[str, ...]:
        """Collect what forecast, stock, water and hands say; then the hazards."""
        site_input, label = self.clocked.site_input, case.surface.label
        findings = (
            *forecast_limits(site_input, case, chain),
            *covers_short(site_input, [(case, chain)]),
            *cold_water(site_input, case, chain, self.clocked.hydration),
            *too_few_hands(site_input, case, chain),
        )
        said = [finding.words.removeprefix(f"{label}: ") for finding in findings]
        said += _not_in_stock(site_input, case, supplies)
        if found.missed:
            titles = dict.fromkeys(task.title.lower() for task in found.missed)
            why = "nobody is there, or a call-out costs more"
            said.append(f"left undone: {', '.join(titles)}; {why}")
        covering = [task for task in chain.tasks if task.covers]
        hazards = covering[-1].cautions[:-1] if covering else ()
        return (*said, *hazards)


def _not_in_stock(
    site_input: SiteInput, case: Case, supplies: Sequence[Supply]
) -> Iterator[str]:
    """Say so where the site lists its covers and has none of this kind."""
    site, area_m2 = site_input.site, case.surface.area_m2
    laid = any(supply.area_m2 for supply in supplies)
    kinds = {stock.kind for stock in site.covers}
    if laid and kinds and case.surface.method not in kinds:
        yield f"none of it in the site's stock; {show('area', area_m2, site.units)}"


def _outside_h(site_input: SiteInput, case: Case, chain: Chain) -> int:
    """Hours in which the forecast breaks some limit of the method, each asked alone."""
    findings = list(forecast_limits(site_input, case, chain))
    if not findings:
        return 0
    first = min(finding.starts_at for finding in findings)
    last = max(finding.ends_at for finding in findings)
    minute = site_input.horizon.minute
    count = 0
    for hour in site_input.weather.hours:
        if minute(first) - 60 < minute(hour.at) < minute(last):
            alone = site_input.weather.model_copy(update={"hours": (hour,)})
            by_hour = site_input.model_copy(update={"weather": alone})
            count += any(True for _ in forecast_limits(by_hour, case, chain))
    return count


def _hottest_c(clocked: Clocked, case: Case) -> float:
    """Highest surface temperature while it cures within the plan."""
    hydration, horizon = clocked.hydration, clocked.site_input.horizon
    column = hydration.surface_ids.index(case.surface.id)
    from_min = max(0, case.exposed_min)
    until_min = max(from_min + 1, min(case.ends_min, case.horizon_min))
    grid = hydration.grid
    first, last = grid.step(horizon.at(from_min)), grid.step(horizon.at(until_min - 1))
    values = hydration.surface_temperature_c[first : last + 1, column]
    return round(float(np.nanmax(values)), 1)
