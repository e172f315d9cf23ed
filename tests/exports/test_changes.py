"""Changes since the issue before, in the words that crews read."""

from datetime import timedelta

from exports.changes import crew_changes, heading, summary
from models.records import ChangeList, Told, VisitChange
from tests.exports.exports_builders import small_site
from tests.exports.issue_builders import second_issue, told_now


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


def one_change(was: Told, now: Told | None) -> ChangeList:
    change = VisitChange(
        kind="moved", identity_id="a", surface_id="P1-top", visit_id=None, was=was,
        now=now,
    )  # fmt: skip
    return ChangeList(since=3, changes=(change,))


def words(was: Told, now: Told | None) -> list[tuple[str, str]]:
    listed = crew_changes(small_site(), one_change(was, now))
    return [(crew.crew, line.change) for crew in listed for line in crew.lines]


def soak() -> Told:
    return told_now()[0].told


def test_a_time_of_another_day_is_said_with_its_day() -> None:
    day = timedelta(days=1)
    later = soak().model_copy(
        update={
            "starts_at": soak().starts_at + day,
            "ends_at": soak().ends_at + day,
            "start_by_at": soak().start_by_at + day,
        }
    )
    assert words(soak(), later) == [("Red gang", "was Mon 3 May 07:30 CEST")]
    owls = later.model_copy(update={"crew_id": "owl"})
    assert words(soak(), owls) == [
        ("Red gang", "now Night pair, Tue 4 May 07:30 CEST"),
        ("Night pair", "was Red gang, Mon 3 May 07:30 CEST"),
    ]


def test_every_other_fact_is_said_as_it_was() -> None:
    longer = soak().model_copy(
        update={"ends_at": soak().ends_at + timedelta(minutes=10), "people": 4}
    )
    alone = soak().model_copy(update={"people": 1})
    assert words(soak(), longer) == [("Red gang", "was 30 min, 2 people")]
    assert words(alone, soak()) == [("Red gang", "was 1 person")]
    wet = soak().model_copy(update={"water": "20 L from Tap", "place": "Quay · Tap"})
    assert words(soak(), wet) == [("Red gang", "was no water")]
    assert words(wet, soak()) == [("Red gang", "was 20 L from Tap")]
    moved = soak().model_copy(update={"place": "Pit", "what": "SOAK Pit"})
    assert words(moved, soak()) == [("Red gang", "was SOAK Pit, Pit")]


def test_one_visit_is_counted_in_the_singular() -> None:
    assert summary(one_change(soak(), None)) == "1 visit moved"


def test_a_crew_that_the_site_has_no_more_is_named_by_its_id() -> None:
    gone = soak().model_copy(update={"crew_id": "old"})
    assert words(gone, soak()) == [
        ("Red gang", "was old"), ("old", "now Red gang, 07:30"),
    ]  # fmt: skip
