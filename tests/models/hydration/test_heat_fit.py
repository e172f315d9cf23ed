"""A wall indoors, measured in its first three days, of a concrete unlike its mix."""

from collections.abc import Sequence
from datetime import timedelta

import numpy as np
import pytest

from models.drying.surroundings import surroundings
from models.hydration.clock import run
from models.records import Grid, HydrationHistory, Mix, Reading, Surface
from tests.builders import MONDAY, pour, site_input, surface

GRID = Grid(MONDAY, 10, 8 * 144)
MIX = Mix(id="C30", strength_mpa=30, cement_kg_m3=340)
#: Slower and cooler than a normal cement's 15 h and 460 kJ/kg.
TRUTH = MIX.model_copy(
    update={"tau_h": 24.0, "heat_j_kg": 420_000.0, "heat_activation_energy_j_mol": 44e3}
)


def wall(wall_id: str = "W", thickness_mm: float = 1000) -> Surface:
    of = pour(
        wall_id, element="wall", thickness_mm=thickness_mm, exposure="indoors"
    )  # fmt: skip
    return surface(
        of, id=f"{wall_id}-formed", face="formed", vertical=True,
        exposed_at=MONDAY + timedelta(hours=100),
    )  # fmt: skip


def go(mix: Mix, *walls: Surface, readings: Sequence[Reading] = ()) -> HydrationHistory:
    of = site_input()
    site = of.site.model_copy(update={"mixes": (mix,)})
    of = of.model_copy(update={"site": site, "readings": tuple(readings)})
    return run(walls, of, surroundings(walls, of, GRID), GRID)


def measured(
    of: HydrationHistory, column: int = 0, hours: Sequence[float] = range(8, 78, 2)
) -> list[Reading]:
    """What thermocouples say, to a tenth, at so many hours from the start."""
    rows = []
    for hour in hours:
        at = MONDAY + timedelta(hours=hour)
        step = GRID.step(at)
        for place, history in (
            ("core", of.core_temperature_c), ("surface", of.surface_temperature_c)
        ):  # fmt: skip
            row = {
                "surface_id": of.surface_ids[column], "at": at, "place": place,
                "temperature_c": round(float(history[step, column]), 1),
            }  # fmt: skip
            rows.append(Reading.model_validate(row))
    return rows


def test_readings_find_the_concrete_they_were_taken_in() -> None:
    truth = go(TRUTH, wall())
    (found,) = go(MIX, wall(), readings=measured(truth)).fits
    # The heat it releases in the end is 420 × 1.031 × 0.5/0.694 = 312 kJ/kg.
    assert found.fitted.tau_h == pytest.approx(24, rel=0.05)
    assert found.fitted.heat_j_kg == pytest.approx(312_000, rel=0.03)
    # One wall says least of this: the prior of 40 holds it a little.
    assert 40_000 < found.fitted.energy_j_mol < 45_000
    assert found.prior.tau_h == 15
    assert found.miss_before_k > 3
    assert found.miss_after_k < 0.3
    assert found.at_bound == ()
    assert found.readings == 70
    assert found.first_at == MONDAY + timedelta(hours=8)


def test_what_comes_after_the_last_reading_is_nearer_the_truth() -> None:
    truth = go(TRUTH, wall())
    early = measured(truth, hours=range(8, 30, 2))
    fitted = go(MIX, wall(), readings=early)
    # Five readings are too few for a fit: they only shift the concrete.
    shifted = go(MIX, wall(), readings=early[-5:])
    after = slice(GRID.step(MONDAY + timedelta(hours=48)), None)

    def miss_k(history: HydrationHistory) -> float:
        apart = history.core_temperature_c - truth.core_temperature_c
        return float(np.abs(apart[after]).max())

    assert shifted.fits == ()
    assert miss_k(fitted) < 1
    assert miss_k(shifted) > 2


def test_each_surface_is_fitted_by_its_own_readings() -> None:
    thin = wall("T", 400)
    slow, usual = go(TRUTH, wall(), thin), go(MIX, wall(), thin)
    readings = [*measured(slow, 0), *measured(usual, 1)]
    first, second = go(MIX, wall(), thin, readings=readings).fits
    assert first.fitted.tau_h == pytest.approx(24, rel=0.05)
    assert second.fitted.tau_h == pytest.approx(15, rel=0.03)
    (alone,) = go(MIX, wall(), readings=measured(slow, 0)).fits
    assert first.fitted.tau_h == pytest.approx(alone.fitted.tau_h, rel=1e-3)


def test_impossible_readings_end_at_what_is_possible() -> None:
    hours = range(8, 78, 2)
    icy = [
        Reading(
            surface_id="W-formed", at=MONDAY + timedelta(hours=hour), place="core",
            temperature_c=-20,
        )
        for hour in hours
    ]  # fmt: skip
    (found,) = go(MIX, wall(), readings=icy).fits
    assert "tau_h" in found.at_bound
    assert found.fitted.tau_h == pytest.approx(150)
    assert 110_000 <= found.fitted.heat_j_kg <= 450_000
    assert 25_000 <= found.fitted.energy_j_mol <= 65_000


@pytest.mark.parametrize(
    "hours", [[8, 30], np.arange(8, 19.5, 0.5), range(0, 5)],
    ids=["too few", "within half a day", "before placing"],
)  # fmt: skip
def test_readings_that_cannot_tell_are_not_fitted(hours: Sequence[float]) -> None:
    readings = [
        Reading(
            surface_id="W-formed", at=MONDAY + timedelta(hours=float(hour)),
            place="core", temperature_c=25,
        )
        for hour in hours
    ]  # fmt: skip
    assert go(MIX, wall(), readings=readings).fits == ()


def test_an_adiabatic_test_stands_as_it_is() -> None:
    tested = MIX.model_copy(
        update={
            "adiabatic_rise_k": ((0.0, 0.0), (12.0, 14.0), (96.0, 44.0)),
            "adiabatic_start_c": 20.0,
        }
    )
    readings = measured(go(TRUTH, wall()))
    assert go(tested, wall(), readings=readings).fits == ()
