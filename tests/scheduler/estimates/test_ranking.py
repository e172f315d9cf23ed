"""The order of the methods."""

from hypothesis import given
from hypothesis import strategies as st

from models.records import Candidate
from scheduler.estimates.ranking import ranked

LOOK = 150.0


def candidate(**fields: object) -> Candidate:
    base: dict[str, object] = {
        "rank": 1, "method": "burlap_double", "title": "any", "planned": False,
        "cost": 0, "cost_by_part": {}, "dry_min": 0, "visits": 1, "rewets": 0,
        "night_rewets": 0, "crew_h": 4, "water_l": 0, "outside_h": 0, "hottest_c": 30,
        "words": "",
    }  # fmt: skip
    return Candidate.model_validate(base | fields)


def titles(*candidates: Candidate) -> list[str]:
    return [one.title for one in ranked(candidates, LOOK)]


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
def test_steps_of_cost_and_hours_outside_never_fall(found: list[Candidate]) -> None:
    order = ranked(found, LOOK)
    steps = [one.cost // LOOK + one.outside_h for one in order]
    assert steps == sorted(steps)
    assert [one.rank for one in order] == list(range(1, len(found) + 1))


@given(CANDIDATES)
def test_ranking_twice_changes_nothing(found: list[Candidate]) -> None:
    assert ranked(ranked(found, LOOK), LOOK) == ranked(found, LOOK)


@given(st.integers(1, 6))
def test_equals_keep_their_order(count: int) -> None:
    found = [candidate(title=str(i)) for i in range(count)]
    assert titles(*found) == [str(i) for i in range(count)]


def test_of_alike_ones_the_mix_the_visits_the_store_the_work_the_heat_decide() -> None:
    assert titles(
        candidate(title="windy", outside_h=3, crew_h=1),
        candidate(title="adds no water", needs_added_water=True, crew_h=1),
        candidate(title="thirsty", visits_per_shift=3, crew_h=1),
        candidate(title="to be hired", in_stock=False, crew_h=1),
        candidate(title="laborious", crew_h=9, hottest_c=20),
        candidate(title="hot", crew_h=4.2, hottest_c=41),
        candidate(title="cool", crew_h=4.4, hottest_c=33, cost=149),
    ) == [
        "cool",
        "hot",
        "laborious",
        "to be hired",
        "thirsty",
        "adds no water",
        "windy",
    ]


def test_a_site_that_prices_no_look_ranks_by_whole_costs() -> None:
    order = ranked(
        (candidate(title="b", cost=2), candidate(title="a", cost=1, crew_h=9)), 0
    )
    assert [one.title for one in order] == ["a", "b"]


def test_hours_outside_its_limits_outweigh_a_small_gain() -> None:
    # Blankets in the heat: nothing late, but 13 h too warm; thirteen looks' worth.
    assert titles(
        candidate(title="overheats", outside_h=13), candidate(title="late", cost=300)
    ) == ["late", "overheats"]


def test_a_dear_method_comes_last_however_little_work_it_is() -> None:
    assert titles(
        candidate(title="dry", cost=500, crew_h=1), candidate(title="wet", crew_h=20)
    ) == ["wet", "dry"]
