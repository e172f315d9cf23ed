"""Dry time that a rule does not count."""

from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from models.local_clock import WeekClock
from models.quantities import duration
from models.records import Finding, Profile
from scheduler.audit.checks.credited import check_credited
from scheduler.audit.replayed.simulation import simulate
from tests.builders import profile, site_input, surface
from tests.scheduler.audit.audit_builders import HORIZON, grid, hydration, work

#: Placed at minute 300, Monday 11:00: two days end on Wednesday at 11:00.
TWO_DAYS = Profile.model_validate(
    profile().model_dump() | {"ends": [{"kind": "days", "days": 2, "clause": "1"}]}
)


def found(*dry: tuple[int, int], ends: bool = True) -> list[Finding]:
    top, on = surface(), grid(HORIZON, 0)
    end_at = top.placing_ends_at + timedelta(days=2)
    works = [work(ends_min=HORIZON.minute(end_at))]
    loss = np.zeros((on.steps, 1))
    simulation = simulate([top], works, [], loss, on, HORIZON)
    minutes = np.zeros(simulation.dry.shape, bool)
    for first, last in dry:
        minutes[first:last] = True
    return check_credited(
        site_input().model_copy(update={"profiles": {"seven_days": TWO_DAYS}}),
        [top],
        replace(simulation, dry=minutes),
        hydration(on, [top], ends_at=[end_at] if ends else ()),
        WeekClock("Europe/Berlin", HORIZON),
    )


# Steps of ten minutes count whole, or not at all.
@pytest.mark.parametrize(
    ("dry", "ends"),
    [
        ([(600, 660)], "Wed 12:00"),
        ([(605, 606)], "Wed 11:10"),
        ([(600, 660), (900, 1020)], "Wed 14:00"),
    ],
)
def test_dry_time_puts_off_the_end_by_as_much(
    dry: list[tuple[int, int]], ends: str
) -> None:
    (finding,) = found(*dry)
    assert finding.words.startswith(
        f"P1 top: {duration(finding.minutes)} dry does not count as curing; "
    )
    assert finding.words.endswith(f"by Seven days it ends {ends}, not Wed 11:00")
    assert finding.minutes == sum(last - first for first, last in dry)


def test_an_end_that_leaves_the_week_is_not_named() -> None:
    (finding,) = found((600, 600 + 1200))
    assert finding.words.endswith("ends not before Thu 06:00, not Wed 11:00")


def test_without_dry_time_or_without_an_end_there_is_nothing_to_say() -> None:
    assert found() == []
    assert found((600, 660), ends=False) == []


def test_dryness_before_placing_ends_takes_nothing_off() -> None:
    assert found((240, 300)) == []
