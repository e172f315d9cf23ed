"""Changes since the issue before, in the words that crews read."""

from exports.changes import crew_changes, heading, summary
from models.records import ChangeList
from tests.exports.exports_builders import small_site
from tests.exports.issue_builders import second_issue


def changes() -> ChangeList:
    found = second_issue().changes
    assert found is not None
    return found


def test_all_visits_are_counted() -> None:
    """Fourteen visits: one moved, one given, one added; the others are kept."""
    assert heading(changes()) == "Changed since issue 1"
    assert summary(changes()) == (
        "11 visits kept, 1 moved, 1 given to another crew, 1 added, 1 dropped"
    )
    assert summary(ChangeList(since=1, changes=())) == "no visits"


def test_a_crew_hears_of_its_own_changes_in_order_of_time() -> None:
    red, owl = crew_changes(small_site(), changes())
    assert [(line.when, line.change) for line in red.lines] == [
        ("Mon 3 May 11:30 CEST", "was 11:10"),
        ("Mon 3 May 12:30 CEST", "was 3 people"),
        ("Mon 3 May 14:20 CEST", "was Night pair"),
        ("Tue 4 May 13:00 CEST", "dropped"),
    ]
    assert [(line.when, line.change) for line in owl.lines] == [
        ("Mon 3 May 14:20 CEST", "now Red gang, 14:20"),
        ("Mon 3 May 23:50 CEST", "new"),
    ]


def test_a_later_limit_is_no_news_and_an_earlier_one_is() -> None:
    (first, *_) = changes().changes
    was = first.was
    assert was is not None
    for minute, words in ((0, ["start by 07:30"]), (59, [])):
        limit = was.start_by_at.replace(hour=5, minute=30)
        old = was.model_copy(update={"start_by_at": limit})
        now = old.model_copy(
            update={"start_by_at": limit.replace(hour=4 if not minute else 6)}
        )
        one = first.model_copy(update={"kind": "kept", "was": old, "now": now})
        listed = crew_changes(small_site(), ChangeList(since=1, changes=(one,)))
        found = [line.change for crew in listed for line in crew.lines]
        assert found == [f"was {each}" for each in words]
