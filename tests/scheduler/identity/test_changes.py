"""What became of every visit, for the people who do it."""

from scheduler.identity.changes import change_list
from scheduler.identity.follow import follow
from tests.scheduler.identity.identity_builders import WEEK, at, ids, visit


def test_every_sort_of_change_is_told_once() -> None:
    new_id = ids()
    earlier = follow(
        (),
        [
            visit("P1/rewet/1", 600),
            visit("P2/rewet/1", 700),
            visit("P3/rewet/1", 800),
            visit("P4/rewet/1", 900),
            visit("P6/rewet/1", 100),
        ],
        1, at(0), WEEK, new_id,
    )  # fmt: skip
    done = {one.id for one in earlier if one.surface_id == "P6"}
    now = follow(
        earlier,
        [
            visit("P1/rewet/1", 600, people=3),
            visit("P2/rewet/1", 720),
            visit("P3/rewet/1", 810, "blue"),
            visit("P5/rewet/1", 650),
        ],
        2, at(300), WEEK, new_id, done,
    )  # fmt: skip
    changes = change_list(earlier, now, since=1).changes
    assert [(c.surface_id, c.kind) for c in changes] == [
        ("P1", "kept"), ("P5", "added"), ("P2", "moved"), ("P3", "given"),
        ("P4", "dropped"),
    ]  # fmt: skip
    assert [c.news for c in changes] == [True] * 5  # P1 needs three people now
    given = changes[3]
    assert given.concerns("red")
    assert given.concerns("blue")
    assert not given.concerns("owl")
