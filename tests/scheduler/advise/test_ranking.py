"""The order of the methods."""

from hypothesis import given
from hypothesis import strategies as st

from models.records import Candidate
from scheduler.advise.ranking import ranked


def candidate(**fields: object) -> Candidate:
    base: dict[str, object] = {
        "rank": 1, "method": "burlap_double", "title": "any", "planned": False,
        "cost": 0, "cost_by_part": {}, "dry_min": 0, "visits": 1, "rewets": 0,
        "night_rewets": 0, "crew_h": 4, "water_l": 0, "outside_h": 0, "hottest_c": 30,
        "words": "",
    }  # fmt: skip
    return Candidate.model_validate(base | fields)


def titles(*candidates: Candidate) -> list[str]:
    return [one.title for one in ranked(candidates)]


CANDIDATES = st.lists(
    st.builds(
        candidate,
        cost=st.sampled_from([0.0, 0.3, 12.0, 400.0]),
        outside_h=st.sampled_from([0, 5]),
        crew_h=st.sampled_from([3.9, 4.1, 9.0]),
        hottest_c=st.sampled_from([28.0, 31.0]),
        title=st.text("abc", min_size=1, max_size=3),
    ),
    max_size=8,
)


@given(CANDIDATES)
def test_cost_never_falls_from_one_rank_to_the_next(found: list[Candidate]) -> None:
    order = ranked(found)
    costs = [round(one.cost) for one in order]
    assert costs == sorted(costs)
    assert [one.rank for one in order] == list(range(1, len(found) + 1))


@given(CANDIDATES)
def test_ranking_twice_changes_nothing(found: list[Candidate]) -> None:
    assert ranked(ranked(found)) == ranked(found)


@given(st.integers(1, 6))
def test_equals_keep_their_order(count: int) -> None:
    found = [candidate(title=str(i)) for i in range(count)]
    assert titles(*found) == [str(i) for i in range(count)]


def test_at_one_cost_the_forecast_then_the_work_then_the_heat_decides() -> None:
    assert titles(
        candidate(title="windy", outside_h=3, crew_h=1),
        candidate(title="hot", crew_h=4.2, hottest_c=41),
        candidate(title="cool", crew_h=4.4, hottest_c=33),
        candidate(title="laborious", crew_h=9, hottest_c=20),
    ) == ["cool", "hot", "laborious", "windy"]


def test_a_dear_method_comes_last_however_little_work_it_is() -> None:
    assert titles(
        candidate(title="dry", cost=500, crew_h=1), candidate(title="wet", crew_h=20)
    ) == ["wet", "dry"]
