"""Strips of covers and parties of fog on a deck, for a gang in pairs.

Set-up is 6 min, a strip at most 60; one person fogs 150 m² with 1.9 L/min; burlap of
two layers goes on at 30 m² an hour and person, comes off at 50 (methods.toml).
"""

import pytest

from models.files.inputs.pairs import all_in_pairs
from models.records import Link, SiteInput, Task
from tests.builders import pour, site_input
from tests.scheduler.methods.methods_builders import duties, hour, work_of


def in_pairs(given: SiteInput) -> SiteInput:
    """The same site with the gang of four in two pairs, as a file would have it."""
    crews = all_in_pairs(given.site.crews, given.site.shifts)
    where = given.site.model_copy(update={"crews": crews})
    return given.model_copy(update={"site": where})


def named(prefix: str, area_m2: float) -> list[Task]:
    """Tasks of a deck whose names begin so; fog is needed from hour 5 to 8."""
    given = in_pairs(site_input(pour(element="deck", area_m2=area_m2)))
    work = work_of(given, fog=((hour(5), hour(8)),))
    return [t for name, t in duties(work).items() if name.startswith(prefix)]


def test_a_deck_is_laid_in_strips_of_an_hour_of_a_pair() -> None:
    """420 m² at 60 m² an hour: a seventh is 60 + 6 min, an eighth 52.5, 53 + 6."""
    strips = named("lay", 420)
    assert [t.duration_min for t in strips] == [59] * 8
    assert {t.people for t in strips} == {2}
    assert [t.share_fraction for t in strips] == [pytest.approx(1 / 8)] * 8
    assert [t.covers for t in strips] == [False] * 7 + [True]
    assert all(t.strip and t.effect == "wet" for t in strips)


def test_strips_begin_in_order_and_may_go_side_by_side() -> None:
    strips = named("lay", 420)
    assert {t.earliest_min for t in strips} == {480}
    assert {t.job for t in strips} == {"laying"}
    assert [t.after for t in strips[1:]] == [
        (Link(task_id=t.id, from_start=True),) for t in strips[:-1]
    ]


def test_all_strips_together_cost_what_the_whole_cover_does() -> None:
    """A duty of 600, a minute late 1."""
    strips = named("lay", 420)
    assert sum(t.missed_cost for t in strips) == pytest.approx(600)
    assert sum(t.late_cost_per_min for t in strips) == pytest.approx(1)


@pytest.mark.parametrize(
    ("area_m2", "strips", "minutes", "people"),
    [
        (54, 1, 60, 2),  # 54 min and 6
        (108, 2, 60, 2),
        (480, 8, 66, 2),  # no more than eight: 60 min and 6
        # Half of 500 m² an hour by the gang, 250 + 6, is longer than the 240 min that
        # anybody works in one; a ninth is 444.4 m², 222.2 min.
        (4000, 9, 229, 4),
    ],
)
def test_strips_by_area(area_m2: float, strips: int, minutes: int, people: int) -> None:
    found = {(t.duration_min, t.people, t.parts) for t in named("lay", area_m2)}
    assert found == {(minutes, people, strips)}


def test_covers_come_off_in_strips_too() -> None:
    """420 m² at 100 m² an hour: a quarter is 63 + 6 min, a fifth 50.4, 51 + 6."""
    strips = named("remove", 420)
    assert [t.duration_min for t in strips] == [57] * 5
    assert {t.job for t in strips} == {"lifting"}
    assert strips[2].full_title == "Lift burlap, strip 3 of 5"


def test_fog_is_shared_by_parties() -> None:
    """420 / 150 = 2.8: three people, a pair for 280 m² and one for 140, 60 min."""
    pair, one = named("fog-1-", 420)
    assert (pair.people, one.people) == (2, 1)
    assert pair.share_fraction == pytest.approx(2 / 3)
    assert one.share_fraction == pytest.approx(1 / 3)
    assert (pair.earliest_min, one.earliest_min) == (300, 300)
    assert (pair.job, one.job) == ("laying", "laying")
    assert not pair.strip
    assert pair.water is not None
    assert one.water is not None
    assert (pair.water.litres_l, one.water.litres_l) == (2 * 1.9 * 60, 1.9 * 60)
    assert pair.steps[0] == "Keep 280 m² of 420 m² damp; others fog the rest."


def test_one_party_fogs_a_small_deck_and_is_told_no_share() -> None:
    (first, *_) = named("fog-1", 300)
    assert (first.id, first.people, first.share_fraction) == ("P1-top/fog-1", 2, 1)
    assert first.steps[0].startswith("Fog above the surface")


def test_a_stint_ends_where_the_cover_can_go_on() -> None:
    """At 480; the cover counts as late half an hour after it, and fog as wanted."""
    given = in_pairs(site_input(pour(element="deck")))
    work = work_of(given, fog=((hour(7.5), hour(8.5)),))
    stints = [t for name, t in duties(work).items() if name.startswith("fog-")]
    assert [(t.earliest_min, t.latest_min) for t in stints][:2] == [
        (450, 480), (480, 540),
    ]  # fmt: skip


def test_each_coat_keeps_its_share_in() -> None:
    """Two coats: each half of the water, from its start on; a single one all of it."""
    given = site_input(pour(method="compound_white", area_m2=90))
    coats = [t for n, t in duties(work_of(given)).items() if n.startswith("coat")]
    coats = [t for t in coats if t.kind == "spray_compound"]
    assert [(t.share_fraction, t.strip) for t in coats] == [(0.5, True)] * 2
    where = given.site.model_copy(update={"rates": {"compound_white.coats": 1.0}})
    one = duties(work_of(given.model_copy(update={"site": where})))["coat1"]
    assert (one.share_fraction, one.strip) == (1, True)
