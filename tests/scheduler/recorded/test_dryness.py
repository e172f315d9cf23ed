"""What a hand has felt counts beside the clock, and no minute twice."""

from datetime import timedelta

import pytest

from models.records import Gap
from scheduler.happened.visits import SeenVisit
from scheduler.recorded.dryness import Done, cut, dry_gaps, uncovered
from tests.scheduler.recorded.recorded_builders import TOP, at, planned, visit

Span = tuple[float, float, bool]


def gap(span: Span) -> Gap:
    first, last, covered = span
    return Gap(surface_id=TOP, starts_at=at(first), ends_at=at(last), covered=covered)


def wetting(hour: float) -> Done:
    """A re-wet that is half done at that hour."""
    own = planned().surfaces[0].rewet
    assert own is not None
    starts_at = at(hour) - timedelta(minutes=own.half_done_min)
    return Done(SeenVisit(visit(own, 1, starts_at)), own)


def lifting(hour: float, **fields: object) -> Done:
    """Somebody takes the cover off."""
    own = planned().surfaces[0].rewet
    assert own is not None
    task = own.model_copy(update={"kind": "remove_cover", "effect": "none", **fields})
    return Done(SeenVisit(visit(task, 1, at(hour))), task)


def test_a_surface_is_bare_from_when_its_last_cover_comes_off() -> None:
    (bare,) = uncovered(TOP, [lifting(9), lifting(8)], at(10), at(90))
    assert (bare.starts_at, bare.ends_at, bare.covered) == (at(8), at(90), False)
    assert uncovered(TOP, [lifting(12)], at(10), at(90)) == ()  # planned, not yet
    laid_again = lifting(9, kind="lay_cover")
    assert uncovered(TOP, [lifting(8), laid_again], at(10), at(90)) == ()


def test_gaps_under_a_cover_end_when_it_comes_off() -> None:
    bare = [gap((8, 90, False))]
    spans: list[Span] = [(1, 2, True), (7, 9, True), (10, 11, True)]
    kept = [gap((1, 2, True)), gap((7, 8, True))]
    assert list(cut(map(gap, spans), bare)) == kept
    assert list(cut(map(gap, spans), [])) == [gap(span) for span in spans]


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
    done = [wetting(hour) for hour in wettings]
    gaps = dry_gaps(TOP, map(gap, by_clock), map(at, found), done, at(20))
    assert gaps == tuple(map(gap, joined))
