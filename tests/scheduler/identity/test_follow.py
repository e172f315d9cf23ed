"""Identities carried from issue to issue."""

from collections.abc import Collection, Mapping
from datetime import timedelta
from itertools import count
from uuid import UUID

import pytest

from models.records import Horizon, ToldVisit, VisitIdentity
from scheduler.identity.changes import change_list
from scheduler.identity.follow import SHOWN_TAKEN_BACK, follow, shown_taken_back
from tests.builders import MONDAY
from tests.scheduler.identity.identity_builders import WEEK, at, ids, visit

MON, TUE = at(0), at(1440)


def first_issue(*visits: ToldVisit) -> tuple[VisitIdentity, ...]:
    return follow((), visits, 1, MON, WEEK, ids())


def next_issue(
    earlier: tuple[VisitIdentity, ...],
    *visits: ToldVisit,
    done: Collection[str] = (),
    pinned: Mapping[str, str] | None = None,
) -> tuple[VisitIdentity, ...]:
    numbers = count(10**6)

    def fresh() -> str:
        return str(UUID(int=next(numbers)))

    return follow(earlier, visits, 2, TUE, WEEK, fresh, done, pinned)


def test_a_renumbered_visit_is_who_it_was() -> None:
    (_, before) = first_issue(visit("P1/rewet/1", 600), visit("P1/rewet/2", 1600))
    dropped, now = next_issue(
        first_issue(visit("P1/rewet/1", 600), visit("P1/rewet/2", 1600)),
        visit("P1/rewet/1", 1600),
    )
    assert (now.id, now.visit_id, now.sequence) == (before.id, "P1/rewet/1", 0)
    assert now.changed_at == MON
    assert (dropped.state, dropped.sequence, dropped.visit_id) == ("cancelled", 1, None)


def test_a_moved_visit_is_told_anew() -> None:
    (now,) = next_issue(first_issue(visit("P1/rewet/1", 600)), visit("P1/rewet/1", 650))
    assert (now.sequence, now.changed_at, now.created_at) == (1, TUE, MON)
    assert now.taken_back == ()


def test_other_words_around_it_are_no_news() -> None:
    earlier = first_issue(visit("P1/rewet/1", 600))
    (now,) = next_issue(earlier, visit("P1/rewet/1", 600, rest_hash="other"))
    assert (now.sequence, now.changed_at) == (0, TUE)


def test_the_crew_that_gave_it_away_sees_it_cancelled() -> None:
    earlier = first_issue(visit("P1/rewet/1", 600, "red"))
    (now,) = next_issue(earlier, visit("P1/rewet/1", 600, "blue"))
    assert (now.id, now.state, now.sequence) == (earlier[0].id, "planned", 1)
    ((_, entry),) = shown_taken_back([now], TUE)
    assert (entry.told.crew_id, entry.sequence) == ("red", 1)


def test_a_crew_that_has_it_again_sees_it_planned() -> None:
    given = next_issue(
        first_issue(visit("P1/rewet/1", 600, "red")), visit("P1/rewet/1", 600, "blue")
    )
    (back,) = follow(given, [visit("P1/rewet/1", 600, "red")], 3, at(1500), WEEK, ids())
    assert [entry.told.crew_id for entry in back.taken_back] == ["blue"]
    assert back.sequence == 2


def test_who_joins_a_round_loses_the_entry_of_its_own() -> None:
    alone = first_issue(visit("P1/rewet/1", 600), visit("P2/rewet/1", 700))
    other = visit("P2/rewet/1", 700, leads=False)
    round_of_two = visit("P1/rewet/1", 600, followers=(other.told,))
    leader, follower = next_issue(alone, round_of_two, other)
    assert [leader.sequence, follower.sequence] == [1, 1]
    assert leader.taken_back == ()
    assert [entry.told for entry in follower.taken_back] == [other.told]


def test_finished_work_keeps_its_id_for_itself() -> None:
    earlier = first_issue(visit("P1/rewet/1", 600), visit("P1/rewet/2", 1600))
    done = earlier[0].id
    first, second, fresh = next_issue(
        earlier, visit("P1/rewet/1", 601), visit("P1/rewet/2", 1600), done={done}
    )
    assert (first.id, first.state, first.visit_id) == (done, "done", None)
    assert (first.sequence, first.taken_back) == (0, ())
    assert second.state == "planned"
    assert fresh.id not in {one.id for one in earlier}
    again = follow(
        (first, second, fresh), [visit("P1/rewet/9", 600)], 3, at(2000), WEEK,
        lambda: "aaaaaaaa-0000-0000-0000-000000000001",
    )  # fmt: skip
    assert again[0] == first


def test_what_began_is_pinned_to_its_place_in_the_new_roster() -> None:
    earlier = first_issue(visit("P1/rewet/1", 600))
    mine = earlier[0].id
    far = visit("P1/rewet/4", 2000)
    (now,) = next_issue(earlier, far, done={mine}, pinned={"P1/rewet/4": mine})
    assert (now.id, now.state, now.visit_id) == (mine, "done", "P1/rewet/4")


def test_a_surface_that_is_gone_is_cancelled() -> None:
    (gone,) = next_issue(first_issue(visit("P1/rewet/1", 2000)))
    assert (gone.state, gone.changed_at) == ("cancelled", TUE)
    assert len(gone.taken_back) == 1


def test_cancelled_work_that_comes_back_is_new_work() -> None:
    gone = next_issue(first_issue(visit("P1/rewet/1", 2000)))
    back = follow(gone, [visit("P1/rewet/1", 2000)], 3, at(1500), WEEK, lambda: NEW)
    assert [one.state for one in back] == ["cancelled", "planned"]
    assert back[0] == gone[0]


NEW = "aaaaaaaa-0000-0000-0000-000000000001"


def test_what_is_taken_back_is_shown_for_seven_days() -> None:
    gone = next_issue(first_issue(visit("P1/rewet/1", 2000)))
    assert len(shown_taken_back(gone, TUE + timedelta(days=7, seconds=-1))) == 1
    assert shown_taken_back(gone, TUE + timedelta(days=7)) == ()
    assert timedelta(days=7) == SHOWN_TAKEN_BACK


def test_another_duty_of_the_surface_is_another_visit() -> None:
    earlier = first_issue(visit("P1/look", 2000, duty="inspect"))
    old, new = next_issue(earlier, visit("P1/rewet/1", 2000))
    assert (old.state, new.duty) == ("cancelled", "rewet")


def test_laying_that_slips_by_two_days_is_the_same_laying() -> None:
    strips = [
        visit(f"P1/lay-{n}", 1500 + 40 * n, duty="lay", recurs=False) for n in range(3)
    ]
    later = [
        visit(f"P1/lay-{n}", 4380 + 40 * n, duty="lay", recurs=False) for n in range(3)
    ]
    earlier = first_issue(*strips)
    now = next_issue(earlier, *later)
    assert [one.id for one in now] == [one.id for one in earlier]
    assert [one.visit_id for one in now] == [each.visit_id for each in later]


@pytest.mark.parametrize(
    ("later_min", "recurs", "same"),
    [
        (4 * 60, True, True),
        (4 * 60 + 1, True, False),
        (7 * 1440, False, True),
        (7 * 1440 + 1, False, False),
    ],
)
def test_how_far_a_visit_moves_and_is_still_itself(
    later_min: int, recurs: bool, same: bool
) -> None:
    earlier = first_issue(visit("P1/work", 1500, recurs=recurs))
    now = next_issue(earlier, visit("P1/work", 1500 + later_min, recurs=recurs))
    assert (len(now) == 1) == same


@pytest.mark.parametrize(
    ("start_min", "state"),
    [
        (-1, "planned"),
        (0, "cancelled"),
        (7 * 1440 - 1, "cancelled"),
        (7 * 1440, "planned"),
    ],
)
def test_what_the_new_roster_does_not_reach_stays(start_min: int, state: str) -> None:
    earlier = first_issue(visit("P1/rewet/1", start_min))
    (now,) = next_issue(earlier)
    assert (now.state, now.visit_id) == (state, None)
    assert [c.kind for c in change_list(earlier, (now,), 1).changes] == (
        ["dropped"] if state == "cancelled" else []
    )


def test_a_strip_that_passes_another_is_the_same_strip() -> None:
    """Two crews lay side by side: red begins its strip before blue now, not after."""
    earlier = first_issue(
        visit("P1/lay-1", 1500, "blue", duty="lay", recurs=False),
        visit("P1/lay-2", 1510, "red", duty="lay", recurs=False),
    )
    now = next_issue(
        earlier,
        visit("P1/lay-1", 1490, "red", duty="lay", recurs=False),
        visit("P1/lay-2", 1500, "blue", duty="lay", recurs=False),
    )
    assert [(one.told.crew_id, one.visit_id) for one in now] == [
        ("blue", "P1/lay-2"), ("red", "P1/lay-1"),
    ]  # fmt: skip


def test_the_next_week_keeps_who_lies_in_both() -> None:
    """Planned on Friday for Monday to Sunday, and again from Saturday on."""
    saturday = Horizon(
        starts_at=MONDAY + timedelta(days=5), ends_at=MONDAY + timedelta(days=12)
    )
    friday_min, sunday_min = 4 * 1440 + 600, 6 * 1440 + 600
    earlier = first_issue(
        visit("P1/rewet/1", 600),
        visit("P1/rewet/2", friday_min),
        visit("P1/rewet/3", sunday_min),
    )
    monday, friday, sunday, fresh = follow(
        earlier,
        [visit("P1/rewet/1", sunday_min + 20), visit("P1/rewet/2", sunday_min + 700)],
        2, at(friday_min), saturday, lambda: NEW, done={earlier[0].id},
    )  # fmt: skip
    assert (monday.state, monday.visit_id) == ("done", None)
    # Nobody wrote whether it was done: it is neither cancelled nor anybody else's.
    assert (friday.state, friday.visit_id, friday.taken_back) == ("planned", None, ())
    assert (sunday.id, sunday.visit_id) == (earlier[2].id, "P1/rewet/1")
    assert (fresh.id, fresh.visit_id) == (NEW, "P1/rewet/2")


@pytest.mark.parametrize(
    ("pinned", "said"),
    [
        ({"P1/rewet/1": "nobody"}, "no visit to pin: 'nobody'"),
        ({"P1/rewet/1": NEW, "P1/rewet/2": NEW}, "pinned twice"),
    ],
)
def test_a_pin_that_holds_nothing_is_refused(pinned: dict[str, str], said: str) -> None:
    earlier = follow((), [visit("P1/rewet/1", 600)], 1, MON, WEEK, lambda: NEW)
    with pytest.raises(ValueError, match=said):
        next_issue(earlier, visit("P1/rewet/1", 600), pinned=pinned)


def test_an_id_that_was_given_before_is_refused() -> None:
    earlier = follow((), [visit("P1/rewet/1", 600)], 1, MON, WEEK, lambda: NEW)
    with pytest.raises(ValueError, match="given before"):
        follow(earlier, [visit("P2/rewet/1", 600)], 2, TUE, WEEK, lambda: NEW)
