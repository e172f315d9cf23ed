"""What the margin of water is worth: ``python -m tests.bench.margin SITE...``.

Plans each site with its margin and without, then plays both rosters under many other
weeks of weather drawn around the forecast, and prints the dry time of each.
"""

import argparse
import sys
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from models.files.site_folder import read_folder
from models.records import Site, SiteInput, Weather
from scheduler.clocked import Clocked, on_side
from scheduler.solver.solve import solve
from scheduler.workflow import Prepared, audit, prepare

#: Errors of a forecast, one standard deviation. Assumptions: what a few days ahead may
#: be off by for a whole week, and what comes and goes by the hour.
WEEK_K, HOUR_K = 1.5, 1.0
WEEK_HUMIDITY, WEEK_WIND = 0.06, 0.2
HOUR_KEPT = 0.95  # of an hour's error in the next one


@dataclass(frozen=True)
class Tried:
    """Dry minutes of a roster as planned, and under each drawn week."""

    planned_min: int
    drawn_min: tuple[int, ...]
    worker_h: float


def drawn(weather: Weather, seed: int) -> Weather:
    """Draw another week of weather around a forecast."""
    rng = np.random.default_rng(seed)
    warmer_k, damper, windier = rng.normal(0, (WEEK_K, WEEK_HUMIDITY, WEEK_WIND))
    hours, error_k = [], 0.0
    for hour in weather.hours:
        fresh_k = rng.normal(0, HOUR_K * np.sqrt(1 - HOUR_KEPT**2))
        error_k = HOUR_KEPT * error_k + fresh_k
        hours.append(
            hour.model_copy(
                update={
                    "air_temperature_c": hour.air_temperature_c + warmer_k + error_k,
                    "humidity_fraction": float(
                        np.clip(hour.humidity_fraction + damper, 0.05, 1)
                    ),
                    "wind_m_s": hour.wind_m_s * float(np.exp(windier)),
                }
            )
        )
    return weather.model_copy(update={"hours": tuple(hours)})


def tried(prepared: Prepared, draws: int) -> Tried:
    """Plan a site and play its roster under drawn weeks."""
    roster = solve(prepared.work)
    expected = prepared.expected
    worker_min = next(p.amount for p in roster.objective if p.name == "labour")

    def dry_min(clocked: Clocked) -> int:
        return audit(clocked, roster).dry_min

    def under(seed: int) -> SiteInput:
        weather = drawn(expected.site_input.weather, seed)
        return expected.site_input.model_copy(update={"weather": weather})

    return Tried(
        dry_min(expected),
        tuple(dry_min(on_side(expected, under(seed))) for seed in range(draws)),
        worker_min / 60,
    )


def without_margin(prepared: Prepared) -> Prepared:
    """Give the same site, where little water costs nothing."""
    work, expected = prepared.work, prepared.expected
    free = work.costs.model_copy(update={"low_water_factor": 0.0})
    site: Site = expected.site_input.site.model_copy(update={"costs": free})
    here = expected.site_input.model_copy(update={"site": site})
    return replace(
        prepared,
        work=work.model_copy(update={"costs": free}),
        expected=replace(expected, site_input=here),
    )


def main() -> int:
    """Print dry minutes with the margin and without, site by site."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("sites", nargs="+", type=Path)
    parser.add_argument("--draws", type=int, default=50)
    asked = parser.parse_args()
    for folder in asked.sites:
        prepared = prepare(read_folder(folder))
        for words, one in (
            ("with margin", prepared),
            ("without", without_margin(prepared)),
        ):
            found = tried(one, asked.draws)
            low, middle, high = np.quantile(found.drawn_min, (0.1, 0.5, 0.9))
            print(
                f"{folder.name}, {words}: {found.planned_min:,} dry min as planned; "
                f"{np.mean(found.drawn_min):,.0f} in the mean of {asked.draws} drawn "
                f"weeks, {low:,.0f} / {middle:,.0f} / {high:,.0f} at 10 / 50 / 90 %; "
                f"{found.worker_h:,.0f} worker-hours"
            )
    return 0


if __name__ == "__main__":
    sys.exit(main())
