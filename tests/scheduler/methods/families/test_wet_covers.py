"""The chain of burlap and mats, minute by minute.

The pour of the builders: 300 m², placed 07:00 to 11:00 local on Monday; minute 0 is
06:00, so placing ends at 300. By hand-made clocks it takes a cover 3 h later, at 480,
bears people at 660. Day shift 07:00-17:00 with 4 people.
"""

import pytest

from models.records import Link, MethodKey
from tests.builders import pour, site_input
from tests.scheduler.methods.methods_builders import by_name, duties, hour, work_of


def test_the_chain_of_burlap_in_order() -> None:
    """Fog only while the cover is late, 510 to 720, cut at the shift end 660."""
    assert list(duties(work_of())) == [
        *[f"fog-{i}" for i in range(1, 5)], "hold", "lay-1", "lay-2", "lay-3", "soak",
        "remove-1", "remove-2", "rewet",
    ]  # fmt: skip


def test_laying() -> None:
    """Strips of 100 m² at 30 by four: 50 min and 6 set-up, from 480 on.

    All are one duty of 600, and a minute late costs 1: a third each. There is one gang:
    the first is due within the profile's hour, the second at 480 + 2 × 56 = 592, the
    third at 648.
    """
    named = duties(work_of())
    strips = [named[f"lay-{n}"] for n in (1, 2, 3)]
    for lay in strips:
        assert (lay.earliest_min, lay.duration_min, lay.people) == (480, 56, 4)
        assert lay.latest_min == 540 + 3 * 24 * 60
        assert lay.missed_cost == pytest.approx(200)
        assert lay.late_cost_per_min == pytest.approx(1 / 3)
        assert (lay.effect, lay.skills) == ("wet", ("labourer",))
        assert lay.share_fraction == pytest.approx(1 / 3)
        assert lay.strip
        assert lay.water is None, "the covers come soaked"
        assert lay.materials[0].area_m2 == 100
    assert [lay.due_min for lay in strips] == [540, 592, 648]
    assert [lay.covers for lay in strips] == [False, False, True]
    assert strips[1].full_title == "Lay wet burlap, strip 2 of 3"
    assert strips[1].after == (Link(task_id="P1-top/lay-1", from_start=True),)


def test_a_strip_is_due_when_it_would_be_on_if_begun_at_once() -> None:
    """2400 m² in no more than eight strips: 300 / 30 / 4 = 150 min and 6, in turn.

    One ends on Monday, at 480 + 156; another would at 792, and they go home at 720. On
    Tuesday they are there at 1503: one ends at 1659, before the break of 1800 to 1830,
    two more at 1986 and 2142, 18 min before they go home. So on Wednesday, from 2943,
    and Thursday: all of them eight.
    """
    strips = duties(work_of(site_input(pour(area_m2=2400))))
    laid = [t for n, t in strips.items() if n.startswith("lay-")]
    tuesday = [1503 + 156, 1830 + 156, 1830 + 312]
    following = [minute + 1440 for minute in tuesday]
    assert [t.due_min for t in laid] == [480 + 156, *tuesday, *following, 4383 + 156]


def test_what_is_due_in_a_break_is_due_after_it() -> None:
    """Placed by 11:30 local, minute 330: three hours earlier, it takes a cover at 330.

    Strips of 56 min: they break from 360 to 390. In turn 390 + 56 = 446, and so on; the
    soak of 42 min is due half an hour after the last, at 558 + 30 + 42.
    """
    early = pour(placing_starts_at=hour(-2), placing_ends_at=hour(2.5))
    named = duties(work_of(site_input(early)))
    strips = [named[f"lay-{n}"] for n in (1, 2, 3)]
    assert [lay.earliest_min for lay in strips] == [330] * 3
    assert [lay.due_min for lay in strips] == [446, 502, 558]
    assert named["soak"].due_min == 630


def test_what_nobody_can_do_is_due_when_the_rule_says() -> None:
    """With people on call alone it is as if somebody were there all the time.

    Strips of 50 m² by two of the pair, 56 min; two at a time of the four: 480 + 3 × 56.
    """
    given = site_input(pour())
    nobody = [
        crew.model_copy(update={"shifts": ("call",)}) for crew in given.site.crews
    ]
    where = given.site.model_copy(update={"crews": tuple(nobody)})
    named = duties(work_of(given.model_copy(update={"site": where})))
    laid = [t for n, t in named.items() if n.startswith("lay-")]
    assert [t.due_min for t in laid] == [540, 540, 592, 592, 648, 648]


def test_a_small_surface_is_due_within_the_profiles_hour() -> None:
    """30 m² at 30 by two: 30 + 6 min; two of the four do."""
    lay = duties(work_of(site_input(pour(area_m2=30))))["lay"]
    assert (lay.people, lay.duration_min, lay.due_min) == (2, 36, 480 + 60)


def test_the_first_soak_follows_within_half_an_hour() -> None:
    """300 m² × 1.5 L/m² = 450 L; by two at 250: 36 min and 6 set-up."""
    soak = duties(work_of())["soak"]
    assert soak.after == (Link(task_id="P1-top/lay-3", max_gap_min=30),)
    assert soak.earliest_min == 480 + 56
    assert (soak.effect, soak.covers) == ("wet", False)
    assert soak.water is not None
    assert (soak.water.litres_l, soak.duration_min) == (450, 42)


def test_the_rewet_pattern_spans_from_cover_on_to_the_end_of_curing() -> None:
    """Curing ends 72 h after placing: minute 300 + 4320."""
    rewet = duties(work_of())["rewet"]
    assert rewet.earliest_min == 480 + 56
    assert rewet.latest_min == 300 + 72 * 60
    assert rewet.water is not None
    assert rewet.water.litres_l == 300, "1 L/m², more than the 0.8 two layers hold"
    assert rewet.missed_cost == 0, "dryness prices it"


def test_a_rewet_fills_a_cover_that_holds_more_than_the_usual_dose() -> None:
    """Mats hold 2 L/m² and get 2; where the site says 4.5 they get 4.5."""
    given = site_input(pour(method="cotton_mats", area_m2=100))
    plain = duties(work_of(given))["rewet"].water
    stock = {"kind": "cotton_mats", "stock_m2": 500, "held_l_m2": 4.5}
    where = given.site.model_validate(given.site.model_dump() | {"covers": [stock]})
    thick = duties(work_of(given.model_copy(update={"site": where})))["rewet"].water
    assert plain is not None
    assert thick is not None
    assert (plain.litres_l, thick.litres_l) == (200, 450)


def test_mats_wait_until_the_surface_bears_people() -> None:
    """At 660 the day shift ends; the gang of the day would be of 4, mats want 3-5."""
    lay = duties(work_of(site_input(pour(method="cotton_mats"))))["lay-1"]
    assert lay.earliest_min == 660
    assert "bears people" in lay.steps[0]


def test_the_hold_point_is_over_when_placing_begins() -> None:
    hold = duties(work_of())["hold"]
    assert (hold.kind, hold.duration_min) == ("hold_point", 15)
    assert (hold.earliest_min, hold.due_min, hold.latest_min) == (0, 60, 60)


def test_the_hold_point_asks_for_everything() -> None:
    """The covers lie in water for 12 h, as where no stock is listed; 1.5 L/m²."""
    steps = duties(work_of())["hold"].steps
    for said in (
        "burlap, soaked 12 h", "Spares", "Water, 450 L to begin with",
        "Name who fogs", "who comes tonight and at the weekend", "forecast",
        "Approved: Seven days", "Placing waits",
    ):  # fmt: skip
        assert any(said in step for step in steps), said


def test_covers_are_lifted_in_the_first_cool_worked_morning() -> None:
    """Curing ends Thursday 11:00 local (4620); the next morning is Friday's 06:00,
    minute 4 × 1440, due within 24 h of the end or by 10:00, whichever is later.

    150 m² at 50 by four: 45 min and 6 set-up, two strips that may go side by side."""
    named = duties(work_of())
    first, second = named["remove-1"], named["remove-2"]
    for remove in (first, second):
        assert remove.earliest_min == 4 * 1440
        assert remove.due_min == 4620 + 1440
        assert (remove.people, remove.duration_min) == (4, 51)
        assert (remove.effect, remove.strip, remove.share_fraction) == (
            "none",
            False,
            1,
        )
    assert first.job == second.job != ""
    assert second.after == (Link(task_id=first.id, from_start=True),)


def test_nothing_is_lifted_if_curing_ends_after_the_plan() -> None:
    assert "remove" not in by_name(work_of(curing_h=None))
    assert "remove" not in by_name(work_of(curing_h=300))


def test_formed_faces_are_wetted_and_covered_when_forms_are_off() -> None:
    """120 m² of faces struck Wednesday 06:00 local: 40 m² at 12 by four, 50 + 6 min.

    The night pair has gone: the day gang of four comes at seven.
    """
    wall = pour(
        element="wall", area_m2=10, formed_area_m2=120, strike_at=hour(48),
        formed_method="burlap_double",
    )  # fmt: skip
    faces = duties(work_of(site_input(wall)), "P1-faces")
    assert list(faces) == ["lay-1", "lay-2", "lay-3", "soak", "rewet"]
    assert (faces["lay-1"].earliest_min, faces["lay-1"].duration_min) == (2880, 56)
    assert faces["lay-1"].steps[0] == "Forms off: wet the face at once."
    assert "Edges and height" in faces["lay-1"].cautions[1]


def test_faces_struck_early_do_not_wait_for_the_top() -> None:
    """Edge forms off an hour after placing, two before the top takes a cover."""
    edges = pour(formed_area_m2=20, strike_at=hour(6), formed_method="burlap_double")
    work = work_of(site_input(edges))
    assert duties(work, "P1-faces")["lay"].earliest_min == 360
    assert duties(work, "P1-top")["lay-1"].earliest_min == 480


def test_no_hold_point_where_the_plan_begins_too_late_for_one() -> None:
    """Placing begins ten minutes into the plan; the look takes fifteen."""
    soon = pour(placing_starts_at=hour(1 / 6))
    assert "hold" not in by_name(work_of(site_input(soon)))
    assert "hold" in by_name(work_of(site_input(pour(placing_starts_at=hour(0.25)))))


def test_a_surface_under_its_cover_needs_no_laying() -> None:
    under_way = pour(
        placing_starts_at=hour(-24), placing_ends_at=hour(-20),
        covered_at=hour(-16), wetted_at=hour(-2),
    )  # fmt: skip
    work = work_of(site_input(under_way))
    assert list(duties(work)) == ["remove-1", "remove-2", "rewet"]
    surface = work.surfaces[0]
    assert surface.covered_from_min == -16 * 60
    assert surface.fresh == ()
    # 2 h at 0.1 of 0.8 L/m².
    assert surface.reserve_at_start_l_m2 == pytest.approx(0.6, abs=1e-6)
    assert by_name(work)["rewet"].earliest_min == 0


@pytest.mark.parametrize("method", ["burlap_single", "burlap_double", "cotton_mats"])
def test_a_large_slab_is_laid_in_strips_and_covered_by_the_last(
    method: MethodKey,
) -> None:
    named = duties(work_of(site_input(pour(method=method, area_m2=1500))))
    parts = [task for name, task in named.items() if name.startswith("lay-")]
    assert len(parts) > 1
    assert [part.covers for part in parts] == [False] * (len(parts) - 1) + [True]
    assert all(part.effect == "wet" for part in parts)
    assert [p.after[0].task_id for p in parts[1:]] == [p.id for p in parts[:-1]]
    assert named["soak"].after[0].task_id == parts[-1].id
