"""Every method's chain as a table: what is asked for, in order, of whom.

A slab of 90 m²; placing ends at minute 300, a cover leaves no mark from 480 on, people
from 660 on, curing ends on Thursday; steam readings and top-ups are left out.
"""

import pytest

from models.records import MethodKey, Task
from tests.builders import pour, site_input
from tests.scheduler.methods.methods_builders import (
    FOR_TOPS,
    duties,
    hour,
    operated,
    work_of,
)

#: Kind of work and people, in the order it is asked for; the hold point comes first.
#: Strips of a job stand one after the other.
COVERED = (("lay_cover", 3), ("soak", 1), ("remove_cover", 2), ("rewet", 1))
SHEETED = (("lay_cover", 2), ("loosen", 2), ("remove_cover", 2), ("rewet", 2))
SPRAYED = (
    ("mix_compound", 1), ("spray_compound", 2), ("spray_compound", 2),
    ("check_coverage", 1), ("inspect", 1),
)  # fmt: skip
CHAINS: dict[MethodKey, tuple[tuple[str, int], ...]] = {
    "burlap_single": COVERED,
    "burlap_double": (("lay_cover", 4), *COVERED[1:]),
    "cotton_mats": (
        *[("lay_cover", 4)] * 2, ("soak", 1), ("remove_cover", 4), ("rewet", 1),
    ),
    "wet_sand": (
        *[("lay_cover", 4)] * 3, ("soak", 1), *[("remove_cover", 4)] * 3, ("rewet", 1),
    ),
    "plastic_sheet": SHEETED,
    "plastic_sheet_clear": SHEETED,
    "plastic_sheet_black": SHEETED,
    "impervious_paper": SHEETED,
    "sheet_over_burlap": (
        ("lay_cover", 4), ("loosen", 2), ("remove_cover", 4), ("rewet", 2),
    ),
    "compound_clear": SPRAYED,
    "compound_white": SPRAYED,
    "ponding": (
        ("lay_cover", 3), ("soak", 1), ("build_bund", 3), ("fill_pond", 2),
        ("drain", 3), ("remove_cover", 2), ("wash", 2), ("rewet", 1),
    ),
    "sprinklers": (
        ("lay_cover", 3), ("soak", 1), ("commission", 2), ("shut_off", 1),
        ("remove_cover", 2),
    ),
    "soaker_under_sheet": (
        ("lay_cover", 4), ("commission", 2), ("shut_off", 2), ("loosen", 2),
        ("remove_cover", 4),
    ),
    "insulated_blankets": (
        *[("lay_cover", 2)] * 2, ("loosen", 2), ("remove_cover", 2),
    ),
    "live_steam": (
        *[("lay_cover", 4)] * 2, ("start_steam", 1), ("end_steam", 1),
        *[("change_cover", 4)] * 2, ("loosen", 2), ("remove_cover", 4), ("rewet", 2),
    ),
}  # fmt: skip
REPEATED = ("fog", "steam_watch", "top_up")


def chain(method: MethodKey) -> list[Task]:
    work = work_of(operated(site_input(pour(method=method, area_m2=90))))
    return [t for t in duties(work).values() if t.kind not in REPEATED]


def test_every_method_of_a_top_is_in_the_table() -> None:
    assert set(CHAINS) == set(FOR_TOPS)


@pytest.mark.parametrize("method", CHAINS)
def test_steps_and_people_in_order(method: MethodKey) -> None:
    hold, *tasks = chain(method)
    assert (hold.kind, hold.people) == ("hold_point", 1)
    assert tuple((task.kind, task.people) for task in tasks) == CHAINS[method]


@pytest.mark.parametrize("method", CHAINS)
def test_only_the_skilled_do_what_asks_for_a_skill(method: MethodKey) -> None:
    skills = {
        "mix_compound": "sprayer", "spray_compound": "sprayer",
        "start_steam": "steam_operator", "end_steam": "steam_operator",
    }  # fmt: skip
    for task in chain(method):
        assert task.skills == (skills.get(task.kind, "labourer"),), task.id


@pytest.mark.parametrize("method", CHAINS)
def test_each_step_waits_for_the_one_it_builds_on(method: MethodKey) -> None:
    """So nothing is lifted, drained or switched off before it was there.

    Strips of a job follow the start of the one before.
    """
    known: dict[str, Task] = {}
    for task in chain(method):
        for link in task.after:
            before = known[link.task_id]
            lasts_min = 0 if link.from_start else before.duration_min
            assert before.earliest_min + lasts_min <= task.earliest_min
            assert link.from_start == (task.job != "" and task.job == before.job)
        known[task.id] = task


@pytest.mark.parametrize("method", CHAINS)
def test_looks_are_asked_for_in_every_shift_under_the_cover(method: MethodKey) -> None:
    """Tuesday and Wednesday have a day and a night each, all under the cover."""
    work = work_of(operated(site_input(pour(method=method, area_m2=90))))
    looks = [t for t in work.surfaces[0].tasks if "look/" in t.id]
    per_day = 1 if method.startswith("compound") else 2
    for day in ("2027-05-04", "2027-05-05"):
        assert sum(day in task.id for task in looks) == per_day, (method, day)


@pytest.mark.parametrize("method", CHAINS)
def test_no_hand_over_leaves_a_surface_bare(method: MethodKey) -> None:
    """Whatever takes a cover away for another lays the other in the same visit.

    Strip by strip; with the last one all of the other is on.
    """
    then = pour(
        method=method, area_m2=90, then_method="insulated_blankets", then_after="2 d"
    )
    (surface,) = work_of(operated(site_input(then)), curing_h=100).surfaces
    lifted = [t for t in surface.tasks if t.kind == "remove_cover"]
    changes = [t for t in surface.tasks if t.kind in ("change_cover", "fill_pond")]
    assert changes
    assert all(t.protects for t in changes)
    assert all(t.effect in ("wet", "seal") for t in changes if t.part == t.parts)
    ends_min = surface.ends_min
    assert all(t.earliest_min >= ends_min for t in lifted), "only after curing"


def test_faces_left_in_their_forms() -> None:
    """60 m² struck at hour 49: wetted every shift, eased, covered within the hour."""
    wall = pour(
        element="wall", area_m2=20, formed_area_m2=60, strike_at=hour(49),
        formed_method="forms_in_place",
    )  # fmt: skip
    tasks = duties(work_of(site_input(wall)), "P1-faces").values()
    assert [task.kind for task in tasks] == [
        *["keep_form_wet"] * 4, "ease_forms", *["lay_cover"] * 3, "rewet",
    ]  # fmt: skip
