"""Methods one after the other: one task a hand-over, one pattern of rewets."""

from itertools import pairwise

import pytest

from models.records import MethodKey, SiteInput, Task
from scheduler.methods.chains.stages import stage_cases
from tests.builders import pour, site_input
from tests.scheduler.methods.methods_builders import (
    by_name,
    case,
    duties,
    hour,
    work_of,
)

#: Placing ends at minute 300; two days after, and an hour for the change around it.
CHANGED_MIN = 300 + 2 * 24 * 60 + 60


def then(method: MethodKey, first: MethodKey = "burlap_double") -> SiteInput:
    return site_input(
        pour(method=first, area_m2=90, then_method=method, then_after="2 d")
    )


def test_a_change_is_one_visit_around_its_time() -> None:
    """Two layers off at 50, a sheet and its mist on at 70 and 300 m²/h, by four.

    By three it would be 67.7 min and 6 of set-up, over an hour.
    """
    change = duties(work_of(then("plastic_sheet"), curing_h=100))["change-1/lay"]
    hand_min = 60 * 90 / 4 * (1 / 50 + 1 / 300 + 1 / 70)
    assert change.kind == "change_cover"
    assert change.effect == "wet"
    assert change.earliest_min == CHANGED_MIN - 60
    assert change.duration_min == pytest.approx(6 + hand_min, abs=1)
    assert change.title == "Burlap off, sheet on"
    assert change.steps[0] == "Why: 2 d after placing."
    assert "next cover on at once" in change.steps[1]


def test_the_first_cover_is_not_lifted_on_its_own() -> None:
    named = duties(work_of(then("plastic_sheet"), curing_h=80))
    assert "remove" not in named
    assert "change-1/remove" in named


def test_the_change_waits_for_the_first_cover() -> None:
    change = duties(work_of(then("plastic_sheet"), curing_h=100))["change-1/lay"]
    assert [link.task_id for link in change.after] == ["P1-top/lay"]
    old = pour(
        placing_starts_at=hour(-34), placing_ends_at=hour(-30), covered_at=hour(-26),
        then_method="plastic_sheet", then_after="2 d",
    )  # fmt: skip
    named = duties(work_of(site_input(old), curing_h=100))
    assert named["change-1/lay-1"].after == ()
    assert not any(name.startswith("lay") for name in named)


def test_what_was_changed_before_the_plan_is_not_changed_again() -> None:
    old = pour(
        placing_starts_at=hour(-46), placing_ends_at=hour(-42), covered_at=hour(-38),
        then_method="plastic_sheet", then_after="1 d",
    )  # fmt: skip
    kinds = {task.kind for task in duties(work_of(site_input(old))).values()}
    assert kinds == {"rewet", "loosen", "remove_cover"}


def test_the_pattern_of_rewets_goes_to_the_cover_that_dries_openly() -> None:
    """The sheet after it gets a visit a shift instead, which costs nothing to skip."""
    work = work_of(then("plastic_sheet"), curing_h=100)
    rewet = work.surfaces[0].rewet
    assert rewet is not None
    assert rewet.id == "P1-top/rewet"
    assert rewet.latest_min == CHANGED_MIN
    visits = [t for n, t in by_name(work).items() if n.startswith("change-1/rewet/")]
    assert len(visits) >= 3
    assert {t.missed_cost for t in visits} == {0}
    assert {t.effect for t in visits} == {"wet"}


def test_a_sheet_first_leaves_the_pattern_to_burlap_after_it() -> None:
    """Sheet off at 90, burlap on at 30: 60 min by all four, two strips of 30 and 6."""
    work = work_of(then("burlap_double", "plastic_sheet"), curing_h=100)
    rewet = work.surfaces[0].rewet
    assert rewet is not None
    assert rewet.id == "P1-top/change-1/rewet"
    assert [link.task_id for link in rewet.after] == ["P1-top/change-1/lay-2"]
    assert any(n.startswith("rewet/") for n in by_name(work))


def test_compound_after_burlap_seals_with_its_first_coat() -> None:
    """The covers come off strip by strip before it; the second coat is a coat more."""
    named = duties(work_of(then("compound_white"), curing_h=100))
    first, second = named["change-1/coat1"], named["change-1/coat2"]
    assert (first.kind, first.effect, first.covers) == ("change_cover", "seal", False)
    # Off at 50 and on at 45 by two: 54 + 60 + 6 = 120 min, and from 3180 on there are
    # 60 to the break, 3240 to 3270: due at 3390, not an hour after the change.
    assert (first.earliest_min, first.due_min) == (CHANGED_MIN - 60, 3270 + 120)
    assert first.skills == ("sprayer",)
    assert {link.task_id for link in first.after} == {
        "P1-top/change-1/mix", "P1-top/lay",
    }  # fmt: skip
    assert (second.kind, second.covers) == ("spray_compound", False)
    assert "Lift the covers strip by strip" in first.steps[1]


def test_a_first_cover_for_a_moment_is_not_laid() -> None:
    """Ready at minute 480; an hour after placing and an hour around it are 420."""
    given = site_input(pour(then_method="plastic_sheet", then_after="1 h", area_m2=90))
    named = duties(work_of(given))
    assert named["lay"].title == "Lay sheet"
    assert not any("change" in name for name in named)


def test_a_change_after_curing_is_none() -> None:
    named = duties(work_of(then("plastic_sheet"), curing_h=40))
    assert not any("change" in name for name in named)
    assert "remove" in named


def test_stages_share_the_time_without_a_hole() -> None:
    given = site_input(
        pour(
            method="ponding", then_method="insulated_blankets", then_after="2 d",
            area_m2=90,
        )
    )  # fmt: skip
    stages = stage_cases(case(given, curing_h=100))
    assert [s.surface.cover.kind for s in stages] == [
        "burlap_single", "pond", "insulated_blankets",
    ]  # fmt: skip
    for one, after in pairwise(stages):
        assert one.ends_min == after.ready_min
        assert one.curing_end_min is None
    assert stages[-1].curing_end_min is not None


def looks(tasks: dict[str, Task]) -> list[str]:
    return [name for name in tasks if "look/" in name]


def test_a_shift_that_sees_a_change_is_looked_at_once() -> None:
    names = looks(by_name(work_of(then("plastic_sheet"), curing_h=100)))
    watches = [name.rsplit("/", 1)[1] for name in names]
    assert len(watches) == len(set(watches))


@pytest.mark.parametrize(
    ("first", "said"),
    [("ponding", "Pump the pond to the sump"), ("sprinklers", "Timer off, lines")],
)
def test_water_is_stopped_before_a_cover_is_changed(
    first: MethodKey, said: str
) -> None:
    named = duties(work_of(then("insulated_blankets", first), curing_h=100))
    changes = [t for t in named.values() if t.kind == "change_cover"]
    assert changes
    assert all(t.steps[1].startswith(said) for t in changes)


def test_a_large_change_is_cut_into_strips_and_the_last_one_counts() -> None:
    given = site_input(
        pour(area_m2=2500, then_method="plastic_sheet", then_after="2 d")
    )
    named = duties(work_of(given, curing_h=120))
    parts = [t for t in named.values() if t.kind == "change_cover"]
    assert len(parts) > 1
    assert [t.effect for t in parts] == ["protect"] * (len(parts) - 1) + ["wet"]
    assert {t.job for t in parts} == {"changing"}, "several parties may do it at once"
    assert not any(t.strip for t in parts), "what lay there keeps the rest wet"
