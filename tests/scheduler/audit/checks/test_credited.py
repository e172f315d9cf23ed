"""Dry time that a rule does not count."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from models.local_clock import WeekClock
from models.quantities import duration
from models.records import Finding
from scheduler.audit.checks.credited import Credited, check_credited, credited_ends
from scheduler.audit.replayed.jobs import Job
from scheduler.audit.replayed.simulation import simulate
from tests.builders import MONDAY, pour, site_input, surface
from tests.scheduler.audit.audit_builders import (
    HORIZON,
    cured_after,
    grid,
    hydration,
    task,
    visit,
    work,
)

#: Placed at minute 300, Monday 11:00: two days end on Wednesday at 11:00.
TWO_DAYS = cured_after(2)


def found(
    *dry: tuple[int, int], ends: bool = True, jobs: Sequence[Job] = ()
) -> list[Finding]:
    top, on = surface(), grid(HORIZON, 0)
    end_at = top.placing_ends_at + timedelta(days=2)
    works = [jobs[0].work if jobs else work(ends_min=HORIZON.minute(end_at))]
    loss = np.zeros((on.steps, 1))
    simulation = simulate([top], works, [], loss, on, HORIZON)
    minutes = np.zeros(simulation.dry.shape, bool)
    for first, last in dry:
        minutes[first:last] = True
    clock_1 = hydration(on, [top], ends_at=[end_at] if ends else ())
    put_off = credited_ends(TWO_DAYS, [top], loss, clock_1, HORIZON, minutes)
    clock = WeekClock("Europe/Berlin", HORIZON)
    held = replace(simulation, dry=minutes)
    return check_credited(put_off, [top], held, jobs, TWO_DAYS, clock)


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


@pytest.mark.parametrize(("start", "kinds"), [(3239, 1), (3240, 0)])
@pytest.mark.parametrize("kind", ["loosen", "remove_cover", "drain", "shut_off"])
def test_nothing_is_uncovered_before_the_credited_end(
    kind: str, start: int, kinds: int
) -> None:
    # Two days after minute 300 is 3180; an hour dry puts that off to 3240, Wed 12:00.
    visit_then = visit("lift", start, 10)
    lift = task("lift", kind=kind)
    where = work(tasks=(lift,), ends_min=3180)
    jobs = [Job(visit_then, lift, where, start, start + 10)]
    early = [one for one in found((600, 660), jobs=jobs) if one.kind == "uncured"]
    assert len(early) == kinds
    for one in early:
        assert one.words.endswith(
            "with 1 h of dry time curing is not over: it ends Wed 12:00"
        )


def known_before(**reported: object) -> dict[str, Credited]:
    """Placed a day before the week: kept damp, cured after two, Tuesday 10:00."""
    end_of_placing = MONDAY - timedelta(hours=25)
    top = surface(
        pour(
            "P1",
            placing_starts_at=end_of_placing - timedelta(hours=2),
            placing_ends_at=end_of_placing,
        )
    ).model_copy(update=reported)
    on = grid(HORIZON, 48)
    loss = np.full((on.steps, 1), 0.1)  # a full cover holds 0.8: dry after 8 h
    end_at = top.placing_ends_at + timedelta(days=2)
    clock_1 = hydration(on, [top], ends_at=[end_at])
    return credited_ends(TWO_DAYS, [top], loss, clock_1, HORIZON)


def test_a_cover_that_was_dry_before_the_week_is_credited_less() -> None:
    # Wetted 20 h before the week, dry 8 h later: 12 h of dry time are known, and the
    # minute in which the last millionth goes; steps of ten minutes count whole.
    found = known_before(
        covered_at=MONDAY - timedelta(hours=23), wetted_at=MONDAY - timedelta(hours=20)
    )
    (one,) = found.values()
    assert one.dry_min == 12 * 60 + 1
    assert one.ends_at == one.planned_at + timedelta(hours=12, minutes=10)


def test_a_cover_that_was_wetted_in_time_is_credited_in_full() -> None:
    assert (
        known_before(
            covered_at=MONDAY - timedelta(hours=23),
            wetted_at=MONDAY - timedelta(hours=7),
        )
        == {}
    )


def test_a_surface_that_nothing_covered_before_the_week_is_credited_from_then() -> None:
    # Ready for a cover when exposed, at the end of placing; late after the grace.
    (one,) = known_before().values()
    grace_min = site_input().site.rules.uncovered_grace_min
    assert one.dry_min == 25 * 60 - grace_min


@pytest.mark.parametrize(
    ("days", "words"), [(5, "it ends Sun 06:00, not"), (7, "it ends Tue 11 May 06:00,")]
)
def test_an_end_put_off_by_a_week_is_told_with_its_date(days: int, words: str) -> None:
    # From Tuesday 4 May, 06:00 local, a day into the week.
    planned_at = HORIZON.at(1440)
    own = Credited(planned_at, planned_at + timedelta(days=days), True, 60)
    top, on = surface(), grid(HORIZON, 0)
    loss = np.zeros((on.steps, 1))
    simulation = simulate([top], [work()], [], loss, on, HORIZON)
    clock = WeekClock("Europe/Berlin", HORIZON)
    late = replace(simulation, works=(work(ends_min=0),))
    (finding,) = check_credited({top.id: own}, [top], late, (), TWO_DAYS, clock)
    assert words in finding.words
