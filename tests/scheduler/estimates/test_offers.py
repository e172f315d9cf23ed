"""Fillings of a cover that is offered one a shift."""

from models.records import AutomaticFlow, Link, Task
from scheduler.estimates.estimate import Estimate, estimate
from tests.scheduler.estimates.advise_builders import (
    NIGHTS,
    lay,
    rewet,
    supply,
    surface_work,
    task,
    work_list,
)


def offer(day: int, after: str = "P1-top/lay") -> Task:
    """A filling within the shift of a day: from minute 60 to 660 of it."""
    start = day * 1440 + 60
    return rewet(
        id=f"P1-top/rewet/{day}", earliest_min=start, due_min=start + 600,
        latest_min=start + 600, after=(Link(task_id=after),),
    )  # fmt: skip


def run(*tasks: Task, **fields: object) -> Estimate:
    surface = surface_work(*tasks, **fields)
    return estimate(work_list(surface), surface, NIGHTS)


def starts(found: Estimate) -> dict[str, int]:
    return {booking.task.id: booking.start_min for booking in found.bookings}


def test_the_last_visit_before_it_is_dry_is_taken() -> None:
    # Laid 120 to 180, wet until 660. The offer of day 0 at its latest, 640 to 660.
    found = run(lay(), offer(0), offer(1), ends_min=1100)
    assert starts(found) == {"P1-top/lay": 120, "P1-top/rewet/0": 640}
    assert (found.rewets, found.dry_min) == (1, 0)


def test_a_filling_that_spares_nothing_is_not_made() -> None:
    assert run(lay(), offer(0), ends_min=650).rewets == 0


def test_where_nobody_came_in_time_the_first_after_it_is_taken() -> None:
    # Dry from 660; the shift of day 1 begins at 1500, five minutes of walk.
    found = run(lay(), offer(1), ends_min=1900)
    assert starts(found)["P1-top/rewet/1"] == 1505
    assert found.dry_min == 1515 - 660  # to its middle


def test_no_offer_without_the_cover_it_fills() -> None:
    change = task(
        "change", kind="change_cover", skills=("steam_operator",), effect="wet",
        missed_cost=600,
    )  # fmt: skip
    found = run(lay(), change, offer(0, after=change.id), ends_min=1100)
    assert found.rewets == 0
    assert [one.id for one in found.missed] == ["P1-top/change"]


def test_a_timer_keeps_it_wet_from_its_commissioning_and_draws_its_own() -> None:
    run_in = task(
        "commission", kind="commission", effect="seal", earliest_min=180,
        missed_cost=600, after=(Link(task_id="P1-top/lay"),),
    )  # fmt: skip
    flow = AutomaticFlow(
        water_point_id="tap", from_min=190, until_min=1190, flow_l_min=2
    )
    found = run(lay(), run_in, offer(0), automatic=(flow,))
    assert (found.dry_min, found.rewets) == (0, 0)
    assert found.water_l == 2000


def test_an_allotment_that_timers_use_up_leaves_no_water_for_visits() -> None:
    surface = surface_work(lay(), offer(0), ends_min=1100)
    dry = supply(daily_allotment_l=0.0, days=({"from_min": 0, "until_min": 1440},))
    found = estimate(work_list(surface, supplies=(dry,)), surface, NIGHTS)
    assert found.rewets == 0
