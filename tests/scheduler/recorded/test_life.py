"""Which surfaces have a record, and how what has none is refused."""

import pytest

from models.errors import InputError
from models.records import Cancelled, PlacingStarted
from scheduler.recorded.book import Book, read_book
from scheduler.recorded.life import life_of
from tests.models.ledger.ledger_builders import issue as made_up
from tests.scheduler.recorded.recorded_builders import (
    PLACED,
    TOP,
    at,
    entry,
    given,
    issue,
    life,
    planned,
)


def test_without_a_ledger_or_an_issue_there_is_no_record() -> None:
    with pytest.raises(InputError, match=r"no ledger.*keepdamp publish SITE"):
        read_book(given(), None)


@pytest.mark.parametrize(
    ("surface_id", "said"),
    [("P1-tpo", "Did you mean 'P1-top'"), ("nothing", "expected .*P1-top")],
)
def test_an_unknown_surface_is_refused(surface_id: str, said: str) -> None:
    base = given()
    book = Book(base, (), (issue(base, planned()),), {1: {}})
    with pytest.raises(InputError, match=said):
        life_of(book, surface_id, at(10))


def test_a_pour_that_is_not_placed_yet_has_no_record() -> None:
    with pytest.raises(InputError, match="P1, not placed before Sun 2 May 11:00"):
        life(hours=-20)


def test_a_pour_that_was_called_off_has_none() -> None:
    off = entry(1, -23, Cancelled(), about="P1")
    with pytest.raises(InputError, match="called off \\(entry 1\\)"):
        life([off])


def test_a_late_placing_moves_the_record() -> None:
    late = entry(1, -21, PlacingStarted(), about="P1")  # two hours late
    assert life([late]).surface.placing_ends_at == PLACED + (at(2) - at(0))


def test_an_issue_of_another_version_is_refused() -> None:
    base = given()
    good = issue(base, planned())
    text = made_up(1, published_at=good.published_at)
    book = Book(base, (), (text,), {1: {}})
    with pytest.raises(InputError, match="issue 1, roster: found another format"):
        life_of(book, TOP, at(10))
