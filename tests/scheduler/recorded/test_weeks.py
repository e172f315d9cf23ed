"""A pour that cures into the next week is followed through the issues of both."""

from datetime import timedelta

from models.records import Horizon, Roster, SiteInput
from scheduler.recorded.book import Book
from scheduler.recorded.life import Life, life_of
from scheduler.recorded.weeks import Published, joined
from tests.scheduler.recorded.recorded_builders import (
    PLACED,
    TOP,
    all_done,
    at,
    given,
    identities,
    issue,
    planned,
)


def second_week() -> tuple[SiteInput, Roster]:
    """The site from Tuesday 06:00 on, its re-wets numbered from one again."""
    base = given().model_copy(
        update={"horizon": Horizon(starts_at=at(24), ends_at=at(5 * 24))}
    )
    later = [one for one in planned().visits if one.starts_at >= at(24)]
    visits = tuple(
        one.model_copy(update={"id": f"{TOP}/rewet/{number}"})
        for number, one in enumerate(later, start=1)
    )
    fields = {"visits": visits, "horizon": base.horizon}
    return base, planned().model_copy(update=fields)


def places(of: Roster, first: int) -> dict[str, str]:
    known = {one.id: one.visit_id or "" for one in identities(planned())}
    return dict(zip([*known][first:], [one.id for one in of.visits], strict=False))


def test_older_visits_keep_their_week_and_the_newest_their_ids() -> None:
    _, newest = second_week()
    (pour,) = given().pours
    roster, place_of = joined(
        [Published(1, planned(), places(planned(), 0)), Published(2, newest, {})], pour
    )
    ids = [one.id for one in roster.visits]
    # four re-wets on Monday (07:00, 13:00, 19:00, 01:00), five from Tuesday 07:00 on
    assert ids[:4] == [f"1:{TOP}/rewet/{n}" for n in (1, 2, 3, 4)]
    assert ids[4:] == [f"{TOP}/rewet/{n}" for n in (1, 2, 3, 4, 5)]
    assert (roster.horizon.starts_at, roster.horizon.ends_at) == (at(0), at(5 * 24))
    assert set(place_of.values()) >= set(ids[:4])


def test_what_was_written_in_the_first_week_counts_in_the_second() -> None:
    now = over_both()
    assert [one.entry is not None for one in now.seen] == [True] * 9
    assert now.unwritten == ()
    assert now.credit.ends_at == PLACED + timedelta(days=3)
    assert now.written_credit.ends_at == now.credit.ends_at


def over_both() -> Life:
    base, newest = second_week()
    issues = (issue(given(), planned()), issue(base, newest, 2, published_at=at(23)))
    known = {1: places(planned(), 0), 2: places(planned(), 0) | places(newest, 4)}
    book = Book(base, tuple(all_done()), issues, known)
    return life_of(book, TOP, at(60))
