"""What a hand has felt counts beside the clock, and no minute twice."""

import pytest

from models.records import Gap
from scheduler.recorded.dryness import dry_gaps
from tests.scheduler.recorded.recorded_builders import TOP, at

Span = tuple[float, float, bool]


def gap(span: Span) -> Gap:
    first, last, covered = span
    return Gap(surface_id=TOP, starts_at=at(first), ends_at=at(last), covered=covered)


@pytest.mark.parametrize(
    ("by_clock", "found", "wettings", "joined"),
    [
        ([], [5], [7], [(5, 7, True)]),
        ([], [5], [4], [(5, 20, True)]),  # nobody wets it: until the record ends
        ([(4.9, 7, True)], [5], [7], [(4.9, 7, True)]),
        ([(5.5, 6, True)], [5], [7], [(5, 7, True)]),
        ([(3, 5.5, False)], [5], [7], [(3, 5.5, False), (5.5, 7, True)]),
        ([(8, 9, True)], [5], [7], [(5, 7, True), (8, 9, True)]),
        ([], [5, 6], [7], [(5, 7, True)]),
        ([(1, 2, True)], [], [7], [(1, 2, True)]),
    ],
)
def test_clock_and_finds_are_joined(
    by_clock: list[Span], found: list[float], wettings: list[float], joined: list[Span]
) -> None:
    gaps = dry_gaps(
        TOP, map(gap, by_clock), map(at, found), [at(h) for h in wettings], at(20)
    )
    assert gaps == tuple(map(gap, joined))
