"""Covers that move wet from one surface to the next: matched as they come off."""

from itertools import product

from hypothesis import given
from hypothesis import strategies as st

from scheduler.solver.plan.wet_moves import Batch, Laid, wet_moves

LASTS_MIN = 100


def came_off(*times: tuple[int, int]) -> list[Batch]:
    """Washed at a minute, so many square metres; wet for 100 minutes after that."""
    return [
        Batch(ready, ready + LASTS_MIN, 10 + i, m2)
        for i, (ready, m2) in enumerate(times)
    ]


def test_the_whole_area_comes_from_what_came_off_first() -> None:
    # 30 m² of 10 and 20 of 11 are washed; 40 wanted: all 30, then 10 of the 20
    moves = wet_moves([Laid(50, 1, 40)], came_off((0, 30), (20, 20)))
    assert moves == {1: [(10, 30), (11, 10)]}


def test_what_is_not_enough_for_all_of_it_is_left_to_others() -> None:
    # 50 m² of 30 + 0: too much for 1; 2 asks for 30 later and has them
    laid = [Laid(50, 1, 50), Laid(60, 2, 30)]
    assert wet_moves(laid, came_off((0, 30))) == {2: [(10, 30)]}


def test_it_is_wet_from_washed_until_it_has_lain_too_long() -> None:
    for start, wet in ((9, False), (10, True), (110, True), (111, False)):
        moves = wet_moves([Laid(start, 1, 5)], came_off((10, 5)))
        assert bool(moves) == wet, start


def by_trying(laid: list[Laid], batches: list[Batch]) -> bool:
    """Whether some way to share out single square metres gives everybody enough."""
    units = [batch for batch in batches for _ in range(round(batch.area_m2))]
    wants = [one for one in laid for _ in range(round(one.area_m2))]
    fits = [
        [i for i, unit in enumerate(units) if unit.ready <= one.start <= unit.until]
        for one in wants
    ]
    return any(len(set(pick)) == len(pick) for pick in product(*fits))


@given(
    st.lists(st.tuples(st.integers(0, 150), st.integers(1, 2)), max_size=3),
    st.lists(st.tuples(st.integers(0, 250), st.integers(1, 2)), max_size=3),
)
def test_no_other_matching_would_serve_all(
    off: list[tuple[int, int]], on: list[tuple[int, int]]
) -> None:
    laid = [Laid(start, i, m2) for i, (start, m2) in enumerate(on)]
    moves = wet_moves(laid, came_off(*off))
    if by_trying(laid, came_off(*off)):
        assert moves.keys() == {one.need for one in laid}
    for batch in came_off(*off):
        given_m2 = sum(m2 for own in moves.values() for n, m2 in own if n == batch.need)
        assert given_m2 <= batch.area_m2
    for one in laid:
        if one.need in moves:
            assert sum(m2 for _, m2 in moves[one.need]) == one.area_m2
