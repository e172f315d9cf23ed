"""What a record says: clauses with their proof, and unknown where nobody wrote."""

from collections.abc import Sequence
from datetime import timedelta
from functools import cache

from exports.record.curing_record import CuringRecord, Section
from models.records import (
    ConcreteReading,
    Entry,
    Found,
    PlacingFinished,
    WorkFailed,
)
from scheduler.recorded.assemble import record_of
from tests.scheduler.recorded.recorded_builders import (
    TOP,
    all_done,
    at,
    covers_off,
    done,
    entry,
    life,
    planned,
)


def record(entries: Sequence[Entry] = (), hours: float = 60) -> CuringRecord:
    return record_of(life(entries, hours))


def section(of: CuringRecord, title: str) -> Section:
    return next(one for one in of.sections if one.title.startswith(title))


def placed(number: int) -> Entry:
    return entry(number, -19, PlacingFinished(), about="P1", by="JM")


@cache
def written() -> CuringRecord:
    entries = all_done()
    return record([*entries, placed(len(entries) + 1)])


def test_a_clause_is_proven_with_value_source_and_state() -> None:
    (days, *_) = section(written(), "What Three days").rows
    assert days.cells == (
        "3 days (its only clause). Decides.",
        "3 d of it credited",
        "by the clock, on visits as written",
        "met",
    )
    assert written().verdict == (
        "Curing was over Wed 5 May 11:00: 3 days (its only clause)."
    )
    assert written().missing == ()


def test_what_nobody_wrote_stays_unknown_and_is_no_proof() -> None:
    bare = record()
    rows = section(bare, "Work").rows
    assert len(rows) == 9  # every six hours from Monday 07:00 to Wednesday 11:00
    assert {row.cells[2:4] for row in rows} == {("unknown", "unknown")}
    assert {row.cells[-1] for row in rows} == {"planned, nobody wrote"}
    (days, *_) = section(bare, "What Three days").rows
    assert days.cells[-1] == "met, if done as planned"
    assert days.tone == "open"
    assert "9 visits of which nobody wrote were done as planned" in bare.verdict
    placing = next(fact for fact in bare.facts if fact.name == "Placing ended")
    assert placing.source == "planned, nobody wrote"
    assert bare.missing[0] == "when placing of P1 finished"
    first = "9 visits without an entry: RE-WET Mon 3 May 07:00"
    assert bare.missing[1].startswith(first)
    assert "unknown" in section(bare, "Water").none
    assert "unknown" in section(bare, "Concrete").none


def test_an_entry_is_told_with_who_wrote_it_and_when() -> None:
    row = section(written(), "Work").rows[0]
    assert row.cells[:2] == ("RE-WET", "Mon 3 May 07:00")
    assert row.cells[3] == "wet"
    first = planned().visits[0]
    wrote_at = first.ends_at + timedelta(hours=2, minutes=5)  # CEST
    assert row.cells[-1] == f"written by AK, Mon 3 May {wrote_at:%H:%M} (entry 1)"


def test_a_failure_a_dry_find_and_its_remedy() -> None:
    of = planned()
    entries = all_done(but=(5, 6))
    number = len(entries) + 1
    told = done(of, 5).model_dump(exclude={"kind"}, exclude_none=True)
    failed = WorkFailed.model_validate(
        {key: told[key] for key in told if key in WorkFailed.model_fields}
        | {"why": "no water"}
    )
    late = done(of, 6, found="dry", litres_l=180, started_at=at(32))
    entries += [
        entry(number, 26, failed),
        entry(number + 1, 32.7, late),
    ]
    now = record(entries)
    (gap,) = section(now, "Dry gaps").rows
    assert "RE-WET not done: no water" in gap.cells[3]
    assert "found dry" in gap.cells[3]
    assert gap.cells[4].startswith("RE-WET Tue 4 May 14:")
    assert "180 L" in gap.cells[4]
    not_done = next(r for r in section(now, "Work").rows if "NOT done" in r.cells[2])
    assert not_done.cells[1:3] == ("Tue 4 May 07:00", "NOT done: no water")
    added = section(now, "Time").rows[-1]
    assert added.cells[0].endswith("which does not count: 3 days (its only clause)")
    find = next(r for r in section(now, "Water").rows if r.cells[3] == "dry")
    assert find.cells[0] == "Tue 4 May 14:00"
    left = int(find.cells[1].removesuffix(" %"))
    assert left > 50  # planned to be wetted at 13:00, an hour before
    assert find.cells[2] in {"0 %", "1 %", "2 %"}


def test_covers_off_for_other_trades_are_the_cause() -> None:
    (gap,) = section(record(covers_off()), "Dry gaps").rows
    assert gap.cells[3].startswith("covers off for other trades (written by AK")


def test_a_reading_stands_beside_the_clock() -> None:
    read = entry(1, 4, ConcreteReading(place="surface", temperature_c=24.5), by="QE")
    (row,) = section(record([read]), "Concrete").rows
    assert row.cells[:3] == ("Mon 3 May 10:00", "face", "24.5 °C")
    assert row.cells[5] == "measured, written by QE, Mon 3 May 10:05 (entry 1)"


def test_a_find_between_visits_counts_as_dry_until_it_is_wetted() -> None:
    entries = all_done()
    dry = entry(len(entries) + 1, 29, Found(condition="dry"))
    (gap,) = section(record([*entries, dry]), "Dry gaps").rows
    # by the clock within a step of ten minutes before the find at 11:00
    assert gap.cells[0][:12] in {"Tue 4 May 10", "Tue 4 May 11"}


def test_the_same_ledger_gives_the_same_text() -> None:
    entries = all_done(but=(3,))
    assert record(entries).text == record(entries).text


def test_a_record_reads_back_from_its_text() -> None:
    assert CuringRecord.model_validate_json(written().text) == written()
    assert written().surface_id == TOP
