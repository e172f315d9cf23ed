"""One method on one surface, judged: what it takes, what it costs, what to mind."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from models.local_clock import WeekClock
from models.quantities import show
from models.records import (
    Candidate,
    CoverForm,
    Finding,
    SiteInput,
    Stretch,
    Surface,
    WorkList,
)
from scheduler.advice.temperature import hours, off_limits
from scheduler.clocked import Clocked
from scheduler.estimates.estimate import Estimate, estimate
from scheduler.estimates.lasting import lasting, visits_per_shift
from scheduler.estimates.supplies import supplies_of
from scheduler.estimates.words import Phrasing, sentence
from scheduler.methods.case.cases import Cases
from scheduler.methods.case.protocol import Case, Chain
from scheduler.methods.chains.stages import stage_cases, stage_chains, whole_chain
from scheduler.methods.warnings.cold_water import cold_water
from scheduler.methods.warnings.cover_stock import covers_short
from scheduler.methods.warnings.forecast import forecast_limits
from scheduler.methods.warnings.hands import too_few_hands
from scheduler.methods.warnings.weekend import open_over_weekend

#: What is sprayed or filled, not kept in a store and laid.
_NOT_LAID: tuple[CoverForm, ...] = ("film", "pond")
#: Below it cement in a sealed mix runs out of water and dries from within: from memory
#: of Powers and Brownyard (1948). [-]
_SPARE_WATER_CEMENT = 0.42
Staged = list[tuple[Case, Chain]]


@dataclass(frozen=True)
class Judge:
    """What all candidates of a site share."""

    clocked: Clocked
    cases: Cases

    def candidate(
        self, surface: Surface, work: WorkList, *, planned: bool
    ) -> Candidate:
        """Judge one version by itself; ``work`` has that surface alone."""
        site_input = self.clocked.site_input
        (own,) = work.surfaces
        case = self.cases.of(surface)
        stages = stage_chains(case)
        nights = self.cases.calendar.nights
        found = estimate(work, own, nights)
        lasts = lasting(own, found.covered_min, work.horizon.length_min, nights)
        longest, at = found.longest_dry, site_input.horizon.at
        outside_h = _outside_h(site_input, stages)
        harmed = off_limits(self.clocked, surface, own)
        return Candidate(
            rank=1,
            method=surface.method,
            title=title_of(surface),
            planned=planned,
            changes=tuple(_changes(case, stages)),
            cost=round(found.cost, 2),
            cost_by_part={k: round(v, 2) for k, v in found.cost_by_part.items()},
            dry_min=found.dry_min,
            longest_dry_from_at=at(longest.from_min) if longest else None,
            longest_dry_until_at=at(longest.until_min) if longest else None,
            visits=len(found.bookings),
            rewets=found.rewets,
            night_rewets=found.night_rewets,
            missed=tuple(task.full_title for task in found.missed),
            crew_h=round(found.crew_min / 60, 2),
            water_l=round(found.water_l, 1),
            supplies=supplies_of(own.tasks),
            lasts_day_h=lasts.day_h,
            lasts_night_h=lasts.night_h,
            outside_h=outside_h,
            off_limits_h=hours(harmed),
            visits_per_shift=visits_per_shift(own, lasts),
            needs_added_water=_needs_added_water(site_input, surface) is not None,
            in_stock=not any(True for _ in _not_in_stock(site_input, stages)),
            hottest_c=_hottest_c(self.clocked, case),
            words=sentence(
                found,
                lasts,
                own,
                outside_h,
                self._phrasing(longest, several=len(stages) > 1),
            ),
            cautions=self._cautions(case, stages, found, harmed),
        )

    def _phrasing(self, longest: Stretch | None, *, several: bool) -> Phrasing:
        site = self.clocked.site_input.site
        clock = WeekClock(site.timezone, self.clocked.site_input.horizon)
        dry = clock.span(longest.from_min, longest.until_min) if longest else ""
        night = f"{site.night_starts:%H:%M} to {site.night_ends:%H:%M}"
        return Phrasing(units=site.units, night=night, longest_dry=dry, several=several)

    def _cautions(
        self, case: Case, stages: Staged, found: Estimate, harmed: Sequence[Finding]
    ) -> tuple[str, ...]:
        """Collect what forecast, stock, water and hands say; then the hazards."""
        site_input = self.clocked.site_input
        chain = whole_chain(case)
        findings = [*harmed, *(one for _, one in covers_short(site_input, stages))]
        for one, own in stages:
            findings += forecast_limits(site_input, one, own)
            findings += open_over_weekend(site_input, one)
        cold = cold_water(site_input, stages, self.clocked.hydration)
        findings += (one for _, one in cold)
        findings += too_few_hands(site_input, case, chain)
        said = [finding.words for finding in findings]
        said += _not_in_stock(site_input, stages)
        dry_mix = _needs_added_water(site_input, case.surface)
        said += [dry_mix] if dry_mix else []
        if found.missed:
            titles = dict.fromkeys(task.full_title.lower() for task in found.missed)
            why = "no people or water in time, or a call-out costs more than it saves"
            said.append(f"left undone: {', '.join(titles)}; {why}")
        hazards = (own.laid.cautions for _, own in stages if own.laid)
        return tuple(dict.fromkeys((*said, *(h for of in hazards for h in of))))

    def gets_used(self, surface: Surface) -> bool:
        """Tell whether a method's time is not over before the surface can take it."""
        cases = stage_cases(self.cases.of(surface))
        return any(one.surface.method == surface.method for one in cases)


def title_of(surface: Surface) -> str:
    """Name the covers of a surface one after the other."""
    return ", then ".join(dict.fromkeys(cover.title for cover in surface.covers))


def _changes(case: Case, stages: Staged) -> Iterator[str]:
    """Say of each planned change of the cover when, to what and why."""
    for one, _ in stages:
        if one.stage:
            when = case.clock.words(one.ready_min)
            yield f"{when} {one.surface.cover.title.lower()}: {one.stage.reason}"


def _not_in_stock(site_input: SiteInput, stages: Staged) -> Iterator[str]:
    """Say so where the site lists its covers and has none of a kind."""
    site = site_input.site
    kinds = {stock.kind for stock in site.covers}
    for case, _ in stages:
        cover = case.surface.cover
        lays = case.needs_cover and cover.form not in _NOT_LAID
        if kinds and lays and cover.kind not in kinds:
            area = show("area", case.surface.area_m2, site.units)
            yield f"{cover.title}: none in stock, {area} needed"


def _needs_added_water(site_input: SiteInput, surface: Surface) -> str | None:
    """Say so where a cover that holds no water lies on a mix with none to spare."""
    mix = next(mix for mix in site_input.site.mixes if mix.id == surface.mix_id)
    ratio = mix.water_cement_fraction
    if surface.held_l_m2 > 0 or ratio >= _SPARE_WATER_CEMENT:
        return None
    return (
        f"adds no water: below a water-cement ratio of {_SPARE_WATER_CEMENT:g} a "
        f"sealed mix dries from within, this one has {ratio:g} (Powers and Brownyard; "
        "from memory)"
    )


def _outside_h(site_input: SiteInput, stages: Staged) -> int:
    """Hours in which the forecast breaks some limit of the method, each asked alone."""
    minute = site_input.horizon.minute
    outside = set()
    for case, chain in stages:
        findings = list(forecast_limits(site_input, case, chain))
        first = min((minute(finding.starts_at) for finding in findings), default=0)
        last = max((minute(finding.ends_at) for finding in findings), default=0)
        for hour in site_input.weather.hours:
            if first - 60 < minute(hour.at) < last and hour.at not in outside:
                alone = site_input.weather.model_copy(update={"hours": (hour,)})
                by_hour = site_input.model_copy(update={"weather": alone})
                if any(True for _ in forecast_limits(by_hour, case, chain)):
                    outside.add(hour.at)
    return len(outside)


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
