"""What every store of a ledger does, on each of them."""

import threading
from datetime import timedelta

import pytest

from models.errors import InputError
from models.ledger.standing import standing
from models.records import Cancelled, Entry, Found, Withdrawn
from tests.models.ledger.ledger_builders import TUESDAY, entry, issue, visit
from tests.models.ledger.ledgers import Ledger

LATER = TUESDAY + timedelta(hours=1)


def test_a_new_ledger_is_empty(ledger: Ledger) -> None:
    with ledger.open() as store:
        assert store.entries() == ()
        assert store.issues() == ()
        assert store.newest_issue() is None
        assert store.visits() == ()
        assert store.seal() == ""
        assert store.next_issue_number() == 1


def test_entries_are_there_when_it_is_opened_again_with_numbers_from_one(
    ledger: Ledger,
) -> None:
    with ledger.open() as store:
        written = store.append([entry("P1-top"), entry("P2-top")], LATER)
    with ledger.open() as store:
        (third,) = store.append([entry("P3", values=Cancelled())], LATER)
        kept = store.entries()
    assert [one.number for one in kept] == [1, 2, 3]
    assert kept == (*written, third)
    assert kept[0] == Entry(**dict(entry("P1-top")), number=1, written_at=LATER)
    assert kept[2].kind == "cancelled"


def test_entries_after_a_number_are_those_above_it(ledger: Ledger) -> None:
    with ledger.open() as store:
        store.append([entry(f"P{n}-top") for n in range(1, 6)], LATER)
        assert [one.number for one in store.entries(after=3)] == [4, 5]


def test_words_in_any_letters_come_back_as_they_were(ledger: Ledger) -> None:
    note = "Laken naß, 'quoted', \\ and 湿"
    with ledger.open() as store:
        store.append([entry(note=note)], LATER)
    with ledger.open() as store:
        assert store.entries()[0].note == note


def test_an_issue_and_its_visits_come_back_whole(ledger: Ledger) -> None:
    visits = [visit(2, surface_id="P2-top"), visit(1)]
    with ledger.open() as store:
        store.publish(issue(1), visits)
        assert store.next_issue_number() == 2
    with ledger.open() as store:
        assert store.newest_issue() == store.issue(1) == issue(1)
        assert store.issues() == (issue(1).head,)
        assert store.visits() == (visit(1), visit(2, surface_id="P2-top"))
        assert store.issue(2) is None


def test_the_newest_row_of_a_visit_counts_and_older_ones_are_kept(
    ledger: Ledger,
) -> None:
    moved = visit(1, 2, born_in=1, sequence=1)
    with ledger.open() as store:
        store.publish(issue(1), [visit(1), visit(2)])
        store.publish(issue(2), [moved])
        assert store.visits() == (moved, visit(2))
        assert store.visits(1) == (visit(1), visit(2))
        assert store.visits(2) == (moved,)


def test_an_issue_made_under_a_taken_number_is_refused(ledger: Ledger) -> None:
    with ledger.open() as store:
        store.publish(issue(1))
        with pytest.raises(InputError, match=r"issue: found 1; expected 2\. Somebody"):
            store.publish(issue(1), [visit(1)])
        assert store.visits() == ()


def test_an_issue_keeps_its_pours_and_its_head_goes_without(ledger: Ledger) -> None:
    whole = issue(1, pours='{"pours":[]}')
    with ledger.open() as store:
        store.publish(whole)
    with ledger.open() as store:
        assert store.newest_issue() == whole
        assert store.issues() == (issue(1).head,)


def test_visits_of_another_issue_are_a_bug_of_the_caller(ledger: Ledger) -> None:
    with ledger.open() as store, pytest.raises(ValueError, match="another issue"):
        store.publish(issue(1), [visit(1, 2)])


def test_a_correction_stands_in_the_place_of_the_older_entry(ledger: Ledger) -> None:
    wet = Found(condition="wet")
    with ledger.open() as store:
        store.append([entry(), entry("P2-top")], LATER)
        store.append([entry(corrects=1, values=wet)], LATER)
        store.append([entry(corrects=2, values=Withdrawn())], LATER)
        kept = store.entries()
    assert len(kept) == 4
    (left,) = standing(kept)
    assert (left.number, left.corrects, left.values) == (3, 1, wet)


def test_a_correction_of_a_correction_leaves_the_last(ledger: Ledger) -> None:
    with ledger.open() as store:
        store.append([entry()], LATER)
        store.append([entry(corrects=1)], LATER)
        store.append([entry(corrects=2)], LATER)
        assert [one.number for one in standing(store.entries())] == [3]


@pytest.mark.parametrize(
    ("corrects", "refused"),
    [
        (7, "corrects: found 7; expected the number of an entry, 1 to 3"),
        (1, "corrects: found 1, which entry 2 has corrected already; expected entry 2"),
    ],
)
def test_a_correction_of_nothing_or_of_what_is_corrected_is_refused(
    ledger: Ledger, corrects: int, refused: str
) -> None:
    with ledger.open() as store:
        store.append([entry()], LATER)
        store.append([entry(corrects=1)], LATER)
        with pytest.raises(InputError, match=refused):
            store.append([entry("P2-top"), entry(corrects=corrects)], LATER)
        # All or none: the sound entry beside it was not taken either.
        assert len(store.entries()) == 2


def test_a_correction_in_an_empty_ledger_is_refused(ledger: Ledger) -> None:
    with ledger.open() as store, pytest.raises(InputError, match="has no entry yet"):
        store.append([entry(corrects=1)], LATER)


def test_a_withdrawal_needs_what_it_withdraws() -> None:
    with pytest.raises(ValueError, match="number of the entry that is withdrawn"):
        entry(values=Withdrawn())


def test_every_write_gives_another_seal(ledger: Ledger) -> None:
    with ledger.open() as store:
        seals = [store.seal()]
        for write in (
            lambda: store.append([entry()], LATER),
            lambda: store.append([entry()], LATER),
            lambda: store.publish(issue(1)),
        ):
            write()
            seals.append(store.seal())
    with ledger.open() as store:
        assert store.seal() == seals[-1]
    assert len(set(seals)) == 4


def three_entries_and_two_issues(ledger: Ledger) -> None:
    with ledger.open() as store:
        store.append([entry("P1-top")], LATER)
        store.publish(issue(1), [visit(1), visit(2)])
        store.append([entry("P2-top"), entry("P3-top", corrects=1)], LATER)
        store.publish(issue(2), [visit(1, 2, born_in=1)])


@pytest.mark.parametrize(
    ("harm", "named"),
    [
        ("UPDATE entries SET body = replace(body, '180', '18') WHERE number = 2",
         "entry 2"),
        ("UPDATE entries SET corrects = 2 WHERE number = 3", "entry 3"),
        ("DELETE FROM entries WHERE number = 2", "entry 2"),
        ("DELETE FROM chain WHERE what = 'entry' AND number = 2", "entry 2"),
        ("UPDATE issues SET roster = '{}' WHERE number = 1", "issue 1"),
        ("UPDATE issues SET forecast = '{}' WHERE number = 2", "issue 2"),
        ("UPDATE issues SET body = replace(body, '12.5', '2.5') WHERE number = 2",
         "issue 2"),
        ("UPDATE visits SET body = replace(body, 'rewet/1', 'rewet/9') "
         "WHERE issue = 1", "issue 1"),
        ("DELETE FROM visits WHERE issue = 1 AND visit LIKE '%2'", "issue 1"),
        ("INSERT INTO entries SELECT site, 4, NULL, body FROM entries "
         "WHERE number = 1", "entry 4"),
        ("INSERT INTO issues SELECT site, 3, body, forecast, roster FROM issues "
         "WHERE number = 1", "issue 3"),
    ],
)  # fmt: skip
def test_a_row_that_was_tampered_with_is_named(
    ledger: Ledger, harm: str, named: str
) -> None:
    three_entries_and_two_issues(ledger)
    ledger.tamper(harm)
    with pytest.raises(InputError, match=rf", {named}: it.*Put back"):
        ledger.open()


@pytest.mark.parametrize(
    ("harm", "said"),
    [
        ("DELETE FROM entries WHERE number = 2", "entry 2: it was taken out"),
        ("DELETE FROM chain WHERE position = 3",
         "entry 2: its link of the hash chain was taken out"),
        ("UPDATE entries SET body = '{}' WHERE number = 2",
         "entry 2: it, or what stands before it, was changed after it was written"),
        ("DELETE FROM chain WHERE position = 5",
         "issue 2: it stands outside the hash chain"),
    ],
)  # fmt: skip
def test_how_a_row_was_tampered_with_is_told(
    ledger: Ledger, harm: str, said: str
) -> None:
    three_entries_and_two_issues(ledger)
    ledger.tamper(harm)
    with pytest.raises(InputError, match=said):
        ledger.open()


def test_rows_cut_off_the_end_change_the_seal(ledger: Ledger) -> None:
    with ledger.open() as store:
        store.append([entry(), entry()], LATER)
        seal = store.seal()
    ledger.tamper(
        "DELETE FROM chain WHERE position = 2", "DELETE FROM entries WHERE number = 2"
    )
    # The chain alone cannot tell; the seal that somebody kept can.
    with ledger.open() as store:
        assert store.seal() != seal


@pytest.mark.parametrize("table", ["entries", "issues", "visits", "chain"])
@pytest.mark.parametrize(
    "harm", ["UPDATE {} SET site = site", "DELETE FROM {}"], ids=["change", "delete"]
)
def test_rows_are_only_ever_added_to(ledger: Ledger, table: str, harm: str) -> None:
    three_entries_and_two_issues(ledger)
    with pytest.raises(Exception, match="only ever added to"):
        ledger.insert_again(harm.format(table))
    ledger.open().close()


def test_a_newer_schema_is_refused_and_untouched(ledger: Ledger) -> None:
    three_entries_and_two_issues(ledger)
    ledger.set_schema(99)
    before = ledger.content()
    with pytest.raises(
        InputError, match=r"found schema 99; expected schema \d or older"
    ):
        ledger.open()
    assert ledger.content() == before


def test_two_writers_at_once_lose_nothing(ledger: Ledger) -> None:
    each, ledger_is_there = 15, ledger.open()
    ledger_is_there.close()
    faults: list[BaseException] = []

    def write(name: str) -> None:
        try:
            with ledger.open() as store:
                for _ in range(each):
                    store.append([entry(name)], LATER)
        except BaseException as error:
            faults.append(error)

    names = ("P1-top", "P2-top")
    writers = [threading.Thread(target=write, args=(name,)) for name in names]
    for writer in writers:
        writer.start()
    for writer in writers:
        writer.join()
    assert faults == []
    with ledger.open() as store:
        kept = store.entries()
    assert [one.number for one in kept] == list(range(1, 2 * each + 1))
    assert {
        name: sum(one.about == name for one in kept) for name in names
    } == dict.fromkeys(names, each)


def test_of_two_who_publish_at_once_one_is_told(ledger: Ledger) -> None:
    with ledger.open() as one, ledger.open() as other:
        number = other.next_issue_number()
        one.publish(issue(number))
        with pytest.raises(InputError, match="published meanwhile"):
            other.publish(issue(number))
        other.publish(issue(number + 1))
        assert len(one.issues()) == 2
