"""Arithmetic of stretches, against sets of minutes."""

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from models.records import Stretch
from scheduler.methods.resources.stretches import clip, merge

STRETCH = st.tuples(st.integers(-50, 50), st.integers(1, 30)).map(
    lambda t: Stretch(from_min=t[0], until_min=t[0] + t[1])
)


def minutes(*stretches: Stretch | None) -> set[int]:
    return {m for s in stretches if s for m in range(s.from_min, s.until_min)}


@given(STRETCH, st.integers(-60, 60), st.integers(-60, 60))
def test_clip_keeps_the_minutes_between(s: Stretch, a: int, b: int) -> None:
    assert minutes(clip(s, a, b)) == minutes(s) & set(range(a, b))


@given(st.lists(STRETCH, max_size=6), st.integers(-60, 60), st.integers(-60, 60))
def test_merge_keeps_every_minute_once(some: list[Stretch], a: int, b: int) -> None:
    merged = merge(some, a, b)
    assert minutes(*merged) == minutes(*some) & set(range(a, b))
    assert all(one.until_min < other.from_min for one, other in pairwise(merged))
