"""Words that stand on several outputs are said in one way."""

import pytest

from exports.notices import dry_gaps_words


@pytest.mark.parametrize(
    ("count", "dry_min", "words"),
    [
        (0, 0, "no dry gaps"),
        (1, 45, "1 dry gap, 45 min in all"),
        (29, 2530, "29 dry gaps, 1 d 18 h in all"),  # 42 h 10 min
    ],
)
def test_dry_gaps(count: int, dry_min: int, words: str) -> None:
    assert dry_gaps_words(count, dry_min) == words
