"""The chain of compound; placing ends at minute 300, the sheen is gone at 420."""

import pytest

from models.records import Link
from tests.builders import pour, profile, site_input
from tests.scheduler.methods.methods_builders import by_name, duties, hour, work_of

WHITE = site_input(pour(method="compound_white"))


def test_the_chain_in_order() -> None:
    assert list(duties(work_of(WHITE))) == [
        "hold", "mix", "coat1", "coat2", "coverage", "rain-watch",
    ]  # fmt: skip


def test_two_coats_with_a_powered_sprayer() -> None:
    """300 m² at 250 by two: 36 + 6 min a coat, half an hour between."""
    named = duties(work_of(WHITE))
    first, second = named["coat1"], named["coat2"]
    assert (first.earliest_min, first.duration_min, first.people) == (420, 42, 2)
    assert first.due_min == 420 + 42, "profile: within 30 min, it takes longer"
    assert second.earliest_min == 420 + 42 + 30
    assert first.after == (Link(task_id="P1-top/mix", max_gap_min=120),)
    assert second.after == (
        Link(task_id="P1-top/coat1", min_gap_min=30, max_gap_min=120),
    )
    assert (first.effect, first.covers) == ("protect", False)
    assert (second.effect, second.covers) == ("seal", True)
    assert first.skills == second.skills == ("sprayer",)


def test_a_small_surface_is_sprayed_by_hand() -> None:
    """60 m² at 45 by two: 40 + 6 min."""
    coat = duties(work_of(site_input(pour(method="compound_clear", area_m2=60))))[
        "coat1"
    ]
    assert coat.duration_min == 46
    assert coat.tools[0] == "hand sprayer"


def test_coverage_is_that_of_two_coats() -> None:
    """UFGS-03301A (read): each coat at most 10 m² a litre; 300 m² are 30 L a coat."""
    named = duties(work_of(WHITE))
    assert named["coat1"].materials[0].volume_l == 30
    assert named["mix"].materials[0].volume_l == 60
    assert "at least 60 L on 300 m²" in named["coverage"].steps[1]
    assert named["coverage"].after == (Link(task_id="P1-top/coat2", max_gap_min=60),)


def test_small_amounts_are_said_to_a_tenth() -> None:
    """4 m² at 0.1 L/m² a coat; in US gallons of 3.785 L both coats are 0.2."""
    small = site_input(pour(method="compound_white", area_m2=4))
    assert duties(work_of(small))["coat1"].materials[0].volume_l == 0.4
    where = small.site.model_copy(update={"units": "us"})
    gallons = work_of(small.model_copy(update={"site": where}))
    assert "at least 0.2 US gal on" in duties(gallons)["coverage"].steps[1]


def test_a_late_start_still_mixes_first() -> None:
    """The sheen went before the week began: mix from 0 to 15, then spray."""
    before = pour(
        method="compound_white", placing_starts_at=hour(-8), placing_ends_at=hour(-4)
    )
    named = duties(work_of(site_input(before)))
    assert (named["mix"].earliest_min, named["coat1"].earliest_min) == (0, 15)


def test_rain_is_watched_for_three_hours_outdoors() -> None:
    """UFGS-03301A (read): rain within 3 h."""
    watch = duties(work_of(WHITE))["rain-watch"]
    sealed_min = 420 + 42 + 30 + 42
    assert watch.earliest_min == sealed_min
    assert watch.kind == "inspect"
    (link,) = watch.after
    assert link.max_gap_min is not None
    assert link.max_gap_min + watch.duration_min == 180
    indoors = site_input(pour(method="compound_white", exposure="indoors"))
    assert "rain-watch" not in by_name(work_of(indoors))


def test_the_film_is_looked_at_once_a_day() -> None:
    """Sealed Monday afternoon, curing until Thursday 11:00 local."""
    looks = [n for n in by_name(work_of(WHITE)) if n.startswith("look/")]
    assert looks == ["look/2027-05-04-day", "look/2027-05-05-day"]


def test_nothing_dries_that_a_visit_could_wet() -> None:
    surface = work_of(WHITE).surfaces[0]
    assert surface.curve is None
    assert surface.rewet is None


def test_the_wait_between_the_coats_is_not_late() -> None:
    """Late from 420 + 30; the chain itself takes 42 + 30 to the start of coat 2."""
    (late,) = work_of(WHITE).surfaces[0].fresh
    assert late.from_min == 420 + 30 + 72


def test_no_fog_once_the_sheen_is_gone() -> None:
    work = work_of(WHITE, fog=((hour(5), hour(8)),))
    fog = [t for n, t in by_name(work).items() if n.startswith("fog-")]
    assert (fog[0].earliest_min, fog[-1].latest_min) == (300, 420)


def test_struck_faces_are_sprayed_within_the_profiles_two_hours() -> None:
    wall = pour(
        element="wall", area_m2=10, formed_area_m2=20, strike_at=hour(49),
        formed_method="compound_clear",
    )  # fmt: skip
    given = site_input(wall)
    faces = duties(work_of(given), "P1-faces")
    assert profile().compound_after_forms_min == 120
    assert faces["coat1"].due_min == 49 * 60 + 120
    assert faces["coat1"].steps[0].startswith("Forms off")
    assert "hold" not in faces


def test_a_large_pavement_is_sprayed_in_parts_and_sealed_by_the_last() -> None:
    named = duties(work_of(site_input(pour(method="compound_white", area_m2=4000))))
    coats = [task for name, task in named.items() if name.startswith("coat")]
    assert len(coats) > 2
    assert [c.effect for c in coats] == ["protect"] * (len(coats) - 1) + ["seal"]
    assert [c.after[0].task_id for c in coats[1:]] == [c.id for c in coats[:-1]]


@pytest.mark.parametrize("kind", ["compound_clear", "compound_white"])
def test_a_sealed_surface_under_way_is_only_looked_at(kind: str) -> None:
    under_way = pour(
        method=kind, placing_starts_at=hour(-24), placing_ends_at=hour(-20),
        covered_at=hour(-17),
    )  # fmt: skip
    work = work_of(site_input(under_way))
    assert duties(work) == {}
    assert len(by_name(work)) >= 2
    assert work.surfaces[0].covered_from_min == -17 * 60


# UFGS-03900 (read): one coat, 20 m² per 3.8 L; an older federal text (read): 1 US gal
# on 150 ft², 3.785 L on 13.9 m². The middle of 0.19 and 0.27 is 0.23 L/m².
def test_a_site_may_spray_one_thick_coat() -> None:
    where = WHITE.site.model_copy(update={"rates": {"compound_white.coats": 1.0}})
    named = duties(work_of(WHITE.model_copy(update={"site": where})))
    assert list(named) == ["hold", "mix", "coat1", "coverage", "rain-watch"]
    coat = named["coat1"]
    assert (coat.effect, coat.covers) == ("seal", True)
    assert coat.materials[0].volume_l == 69
    assert "In all: at least 69 L on 300 m²." in named["coverage"].steps


def test_rain_on_a_fresh_film_is_sprayed_again_with_what_it_takes() -> None:
    watch = duties(work_of(WHITE))["rain-watch"]
    assert "Rained on within 3 h: spray it again" in watch.steps[1]
    assert "60 L" in watch.steps[1]
    assert "compound and sprayer by hand" in watch.tools
