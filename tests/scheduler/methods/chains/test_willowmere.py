"""The training ground: every method that a site can have, in one frosty, windy week."""

from pathlib import Path

import pytest

from models.records import MethodKey
from scheduler.clocked import Clocked, run_clocks
from tests.scheduler.methods.methods_builders import USABLE

FOLDER = Path(__file__).parents[4] / "demo" / "willowmere"


@pytest.fixture(scope="module")
def clocked() -> Clocked:
    return run_clocks(FOLDER)


def test_every_method_of_a_site_has_a_surface(clocked: Clocked) -> None:
    shown: set[MethodKey] = {s.method for s in clocked.surfaces}
    assert shown == set(USABLE)


def test_every_reason_for_a_change_occurs(clocked: Clocked) -> None:
    reasons = " ".join(s.reason for x in clocked.surfaces for s in x.later)
    for word in ("frost", "weekend", "d after placing", "pond", "steam"):
        assert word in reasons


def test_the_week_has_a_hot_windy_day_and_a_frosty_night(clocked: Clocked) -> None:
    hours = clocked.site_input.weather.hours
    assert min(h.air_temperature_c for h in hours) < 0
    assert any(h.air_temperature_c > 30 and h.wind_m_s > 8 for h in hours)
