"""Each site has one bottleneck, planted; the gap must name it."""

from models.records import (
    Gap,
    Link,
    Missed,
    Stretch,
    SurfaceWork,
    TakenFlow,
    Task,
    WorkList,
)
from scheduler.solver.explain.explain import Explainer
from scheduler.solver.plan.cost import Stop
from scheduler.solver.plan.plan import Plan
from scheduler.solver.problem.problem import prepare
from scheduler.solver.search.effort import Effort
from scheduler.solver.solve import solve
from tests.scheduler.solver.solver_builders import (
    duty,
    rewet,
    shift,
    surface,
    tap,
    week,
    work_list,
)


def gaps(work: WorkList) -> tuple[Gap, ...]:
    return solve(work, Effort(work=0.05)).gaps


def test_nobody_is_on_shift_in_the_night() -> None:
    shifts = (shift(), shift(id="red/2", starts_min=1440, ends_min=2040))
    work = work_list(surface(ends_min=1400), shifts=shifts, minutes=1500)
    night = gaps(work)[-1]
    assert night.limit == "no_crew_on_shift"
    assert "from Mon 16:00 until Tue 06:00 (red)" in night.words


def test_an_empty_crew_list_gives_gaps_and_no_error() -> None:
    roster = solve(work_list(surface(), shifts=()), Effort(work=0.05))
    assert roster.visits == ()
    assert [gap.limit for gap in roster.gaps] == ["no_crew_on_shift"]
    assert roster.cost == 600


def test_the_crew_is_busy_and_it_is_said_with_what() -> None:
    dear = duty("S/look", duration_min=300, missed_cost=10_000, latest_min=310)
    other = surface("T", reserve_at_start_l_m2=0.5)  # dry at 60
    work = work_list(surface("S", tasks=(dear,), rewet=None, curve=None), other)
    first = gaps(work)[0]
    assert (first.surface_id, first.limit) == ("T", "crews_busy")
    assert "red on Slab S (look under the cover) until Mon 11:0" in first.words


def test_among_a_hundred_busy_gangs_the_free_one_is_found() -> None:
    # A hundred gangs are busy from 3 to 583, red until 301 and from 335 on: with walks
    # of 3 its twenty minutes begin from 304 to 312, between those tried evenly.
    gangs = [shift(f"g{n:03}") for n in range(100)]
    looks = [
        surface(f"S{n:03}", curve=None, rewet=None,
                tasks=(duty(f"S{n:03}/look", duration_min=580),))
        for n in range(100)
    ]  # fmt: skip
    busy = [
        surface(name, curve=None, rewet=None,
                tasks=(duty(f"{name}/look", duration_min=minutes),))
        for name, minutes in (("U1", 298), ("U2", 250))
    ]  # fmt: skip
    work = work_list(*looks, surface("T"), *busy, shifts=(*gangs, shift("red")))
    plan = Plan(prepare(work))
    for n in range(100):
        assert plan.change((), (Stop(3, n, n, -1),))
    assert plan.change((), (Stop(3, 101, 100, -1), Stop(335, 102, 100, -1)))
    surface_t = plan.problem.surfaces[100]
    limit, words = Explainer(plan).why_dry(surface_t, 0, 600, covered=True)
    assert (limit, words) == ("price", "red could come Mon 11:04")


def test_no_crew_has_the_skill() -> None:
    work = work_list(surface(rewet=rewet("S", skills=("sprayer",), people=3)))
    only = gaps(work)[0]
    assert only.limit == "no_skill"
    assert "takes 3 with sprayer; on shift: red (2: labourer)" in only.words


def test_the_flow_is_too_small() -> None:
    only = gaps(work_list(surface(), supplies=(tap(flow_l_min=15),)))[0]
    assert only.limit == "water_flow"
    assert "tap has 15 L/min left" in only.words
    assert "20 L/min are needed" in only.words


def test_crews_and_points_go_by_their_names_and_amounts_by_the_sites_units() -> None:
    supply = tap(flow_l_min=15, name="Quay tap")
    only = gaps(work_list(surface(), supplies=(supply,), units="us"))[0]
    assert "Quay tap has 4.0 US gpm left" in only.words  # 15 / 3.785
    shifts = (shift(crew_name="Red gang"),)
    skilled = work_list(surface(rewet=rewet("S", people=3)), shifts=shifts)
    assert "on shift: Red gang (2: labourer)" in gaps(skilled)[0].words


def test_the_flow_is_taken_by_others() -> None:
    taken = (TakenFlow(from_min=0, until_min=300, flow_l_min=990),)
    first = gaps(work_list(surface(), supplies=(tap(taken=taken),)))[0]
    assert first.limit == "water_flow"
    assert "10 L/min left" in first.words


def test_the_allotment_of_the_day_is_used_up() -> None:
    supply = tap(daily_allotment_l=450, days=(Stretch(from_min=-360, until_min=1080),))
    last = gaps(work_list(surface(), supplies=(supply,)))[-1]
    # two rewets take 400 of 450 litres
    assert last.limit == "water_allotment"
    assert "50 L left of the 450 L of Mon; 200 L are needed" in last.words


def test_the_tank_is_empty_until_it_has_filled() -> None:
    supply = tap(capacity_l=1000, level_at_start_l=0, refill_l_min=1)
    first = gaps(work_list(surface(), supplies=(supply,)))[0]
    assert first.limit == "tank_empty"
    assert "200 L are needed, there from Mon 09:19 at the soonest" in first.words


def test_the_rest_between_shifts_forbids_it() -> None:
    # Work to be done late in the first shift leaves no rest before the second.
    late = duty("S/look", earliest_min=560, latest_min=590, missed_cost=10_000)
    shifts = (shift(), shift(id="red/2", starts_min=600, ends_min=1200))
    work = work_list(
        surface("S", tasks=(late,), rewet=None, curve=None), surface("T"),
        shifts=shifts, rest_min=600, minutes=1200,
    )  # fmt: skip
    last = [gap for gap in gaps(work) if gap.surface_id == "T"][-1]
    assert last.limit == "rest"
    assert "10 h of rest" in last.words


def test_the_walk_takes_too_long() -> None:
    work = work_list(
        surface(zone_id="B"), zone_ids=("A", "B"), travel_min=((3, 100), (100, 3)),
        water_points={"A": ("tap",), "B": ("tap",)},
    )  # fmt: skip
    first = gaps(work)[0]
    assert (first.limit, first.minutes) == ("travel", 100)
    assert "red walk 100 min once their shift begins Mon 06:00" in first.words


def test_it_may_not_be_covered_yet() -> None:
    lay = duty("S/lay", effect="wet", covers=True, earliest_min=100, title="Lay burlap")
    fresh = (Stretch(from_min=50, until_min=600),)
    work = work_list(surface(tasks=(lay,), covered_from_min=None, fresh=fresh))
    first = gaps(work)[0]
    assert (first.limit, first.covered, first.minutes) == ("window", False, 50)
    assert "lay burlap is not allowed before Mon 07:40" in first.words


def test_a_visit_was_possible_but_dearer_than_the_dryness() -> None:
    night = shift(kind="on_call", call_out_cost=1000)
    only = gaps(work_list(surface(), shifts=(night,)))[0]
    assert only.limit == "price"
    assert "red could be called out" in only.words


def test_a_cover_that_cannot_be_wetted_is_said_to_be_so() -> None:
    sealed: SurfaceWork = surface(rewet=None)
    assert gaps(work_list(sealed))[0].words == "its cover cannot be wetted again"


def test_the_limit_whose_easing_saves_most_is_named() -> None:
    # The crew leaves at 16:00 and its last rewet lasts until 18:00. One more just
    # before it leaves would win minutes, somebody in the night would win hours.
    look = duty("T/look", earliest_min=560, latest_min=600, missed_cost=10_000,
                duration_min=40)  # fmt: skip
    work = work_list(
        surface(), surface("T", tasks=(look,), rewet=None, curve=None), minutes=1200,
    )  # fmt: skip
    night = [gap for gap in gaps(work) if gap.surface_id == "S"][-1]
    assert night.limit == "no_crew_on_shift"


def test_limits_that_bind_only_together_are_named_together() -> None:
    work = work_list(
        surface(rewet=rewet("S", people=3)), supplies=(tap(flow_l_min=15),)
    )
    only = gaps(work)[0]
    assert only.limit == "no_skill"
    assert "takes 3 with labourer" in only.words
    assert ", and tap has 15 L/min left" in only.words


def missed(work: WorkList) -> tuple[Missed, ...]:
    return solve(work, Effort(work=0.05)).missed


def with_duties(*duties: Task) -> SurfaceWork:
    return surface(tasks=duties, rewet=None, curve=None)


def test_a_missed_duty_names_what_the_crew_does_instead() -> None:
    dear = duty("S/look", duration_min=300, missed_cost=10_000, latest_min=310)
    read = duty("T/read", title="Read temperature", missed_cost=150, latest_min=280)
    other = surface("T", tasks=(read,), rewet=None, curve=None)
    work = work_list(surface("S", tasks=(dear,), rewet=None, curve=None), other)
    (only,) = missed(work)
    assert (only.task_id, only.surface_id, only.limit) == ("T/read", "T", "crews_busy")
    assert "red on Slab S (look under the cover) until Mon 11:0" in only.words


def test_a_missed_duty_for_which_nobody_is_there() -> None:
    late = duty("S/look", earliest_min=700, latest_min=800, missed_cost=150)
    (only,) = missed(work_list(with_duties(late), minutes=900))
    assert only.limit == "no_crew_on_shift"
    assert only.words == "no crew is on shift from Mon 16:00"


def test_a_missed_duty_that_follows_a_missed_one_says_so() -> None:
    lift = duty(
        "S/lift", title="Lift", missed_cost=600, after=(Link(task_id="S/ease"),)
    )
    ease = duty("S/ease", title="Loosen", missed_cost=600, skills=("sprayer",))
    first, second = missed(work_list(with_duties(ease, lift)))
    assert (first.limit, second.limit) == ("no_skill", "no_skill")
    assert second.words == f"loosen comes first: {first.words}"


def test_a_duty_that_is_dearer_late_than_left_out_names_the_price() -> None:
    late = duty("S/look", due_min=30, missed_cost=150, late_cost_per_min=1)
    shifts = (shift(starts_min=300),)
    (only,) = missed(work_list(with_duties(late), shifts=shifts))
    # Begun at 300 it ends at 330, 300 min late: 300 against 150.
    assert only.limit == "no_crew_on_shift"
    assert "until Mon 11:00 (red)" in only.words


def test_the_week_has_no_hours_left_for_a_call_out() -> None:
    night = shift(kind="on_call", call_out_cost=10)
    full = week(22, regular_min=2858, most_min=2880)
    only = gaps(work_list(surface(), shifts=(night,), weeks=(full,)))[0]
    # three minutes' walk and twenty of work would be 23
    assert only.limit == "week"
    assert only.words == (
        "red have 22 min left of the 48 h of work in the week from Mon 3 May"
    )


def test_nobody_works_in_the_heat_ban() -> None:
    # Wet from 3, dry again at 143, rewetted by 163; the ban leaves no time for it.
    ban = Stretch(from_min=100, until_min=400)
    found = [
        gap for gap in gaps(work_list(surface(), heat_bans=(ban,))) if gap.minutes > 10
    ]
    assert [gap.limit for gap in found] == ["heat_ban"]
    assert found[0].words == (
        "nobody works outdoors in the heat ban Mon 07:40 to 12:40"
    )
