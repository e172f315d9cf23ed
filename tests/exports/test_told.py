"""What must be told of a visit, and what is the rest."""

import pytest

from exports.entries import entries
from exports.entry import Entry
from exports.told import told, told_visits
from models.records import Told
from tests.exports.exports_builders import small_report, small_roster, small_site


def words() -> tuple[Entry, ...]:
    return entries(small_site(), small_roster(), small_report())


def test_every_visit_is_told_once_in_order() -> None:
    found = told_visits(small_roster(), words())
    assert [each.visit_id for each in found] == [e.visit_id for e in words()]
    fog = found[2]
    assert (fog.duty, fog.recurs, fog.leads) == ("fog: fog", True, True)
    assert fog.told == told(words()[2])
    cover = found[3]
    assert (cover.duty, cover.recurs) == ("lay_cover: lay cover", False)


def test_visits_of_a_round_are_lines_in_the_entry_of_the_first() -> None:
    """The rewet of Tue 07:40 and the inspection five minutes after are one walk."""
    found = {each.visit_id: each for each in told_visits(small_roster(), words())}
    first, second = found["P1-top/rewet/2"], found["P1-top/inspect/1"]
    assert first.leads
    assert first.followers == (second.told,)
    assert not second.leads
    assert second.followers == ()


@pytest.mark.parametrize("field", sorted(set(Entry.model_fields) - {"visit_id"}))
def test_each_fact_of_an_entry_is_told_or_rest_or_nobodys(field: str) -> None:
    """A fact that were neither could change without a phone hearing of it."""
    nobodys = {"shift_id"}
    # Said by others: by crew and place, by start and end, by start and limit.
    said = {
        "crew_name", "task_title", "zone_name", "zone_words", "minutes", "late",
        "litres_l", "water_point_id", "water_point_name", "draw_words",
    }  # fmt: skip
    other = {
        "title": "what", "water_words": "water", "starts_at": "starts_at",
        "ends_at": "ends_at", "start_by_at": "start_by_at", "crew_id": "crew_id",
        "place": "place", "people": "people",
    }  # fmt: skip
    assert set(other.values()) == set(Told.model_fields)
    (plain, *_) = words()
    changed = plain.model_copy(update={field: _another(getattr(plain, field))})
    before, after = (
        told_visits(small_roster(), (each,))[0] for each in (plain, changed)
    )
    assert (before.told != after.told) == (field in other)
    rest = field not in other and field not in nobodys and field not in said
    assert (before.rest_hash != after.rest_hash) == rest


def _another(value: object) -> object:
    if isinstance(value, bool):
        return not value
    if isinstance(value, int | float):
        return value + 1
    if isinstance(value, str):
        return f"{value} x"
    if isinstance(value, tuple):
        return (*value, *value, 1) if value and isinstance(value[0], int) else ("x",)
    return words()[0].starts_at.replace(minute=7)


def test_the_rest_of_a_round_is_that_of_all_its_lines() -> None:
    """A caution of the second visit stands in the entry of the first."""
    changed = [
        each.model_copy(update={"cautions": ("Mind the step.",)})
        if each.visit_id == "P1-top/inspect/1"
        else each
        for each in words()
    ]
    before, after = (
        {each.visit_id: each.rest_hash for each in told_visits(small_roster(), said)}
        for said in (words(), changed)
    )
    other = {visit_id for visit_id in before if before[visit_id] != after[visit_id]}
    assert other == {"P1-top/rewet/2", "P1-top/inspect/1"}
    assert before["P1-top/rewet/2"] != before["P1-top/inspect/1"]
