"""A few publishers killed: ``tests.harness.publish_kills`` kills as many as asked."""

import multiprocessing
from pathlib import Path

import pytest

from tests.harness.publish_kills import kills

pytestmark = [
    pytest.mark.slow,
    pytest.mark.skipif(
        "fork" not in multiprocessing.get_all_start_methods(), reason="needs fork"
    ),
]


def test_a_killed_publisher_leaves_a_draft_or_an_issue(tmp_path: Path) -> None:
    found = kills(8, 1, tmp_path)
    assert sum(found.values()) == 8
