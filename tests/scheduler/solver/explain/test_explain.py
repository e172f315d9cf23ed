"""Each site has one bottleneck, planted; the gap must name it."""

from collections.abc import Sequence

import pytest

from models.records import (
    BusyStretch,
    Costs,
    Limit,
    Link,
    Missed,
    Reason,
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


def reasons(work: WorkList) -> list[tuple[Reason, ...]]:
    """What stood in the way of each gap, by surface, then time."""
    return [gap.reasons for gap in solve(work, Effort(work=0.05)).gaps]


def spans(found: Sequence[Reason], work: WorkList) -> list[tuple[int, int, Limit]]:
    minute = work.horizon.minute
    return [(minute(r.starts_at), minute(r.ends_at), r.limit) for r in found]


def test_nobody_is_on_shift_in_the_night() -> None:
    # Wet until 16:00 and two hours more: dry from 18:00 until the crew has walked.
    shifts = (shift(), shift(id="red/2", starts_min=1440, ends_min=2040))
    work = work_list(surface(ends_min=1500), shifts=shifts, minutes=1500)
    night = reasons(work)[-1]
    first, *_ = spans(night, work)
    assert first[1:] == (1440, "no_crew_on_shift")
    assert night[0].words == (
        "no crew is on shift from Mon 16:00 until Tue 06:00 (red)"
    )


def test_a_long_gap_is_told_stretch_by_stretch() -> None:
    # A cover of two hours' work that nobody lays: the crew has 60 min, a break of 30
    # and 110 min more; then nobody; then a crew of one man, where two are wanted.
    lay = duty("S/lay", kind="lay_cover", effect="wet", covers=True, people=2,
               duration_min=120)  # fmt: skip
    shifts = (
        shift(ends_min=200, breaks=(Stretch(from_min=60, until_min=90),)),
        shift("owl", people=1, starts_min=300, ends_min=600),
    )
    bare = surface(
        tasks=(lay,), covered_from_min=None,
        fresh=(Stretch(from_min=0, until_min=600),), zone_id="A",
    )  # fmt: skip
    work = work_list(bare, shifts=shifts)
    (found,) = reasons(work)
    # From 0 the break is in the way; from 81 on the shift ends too soon.
    assert spans(found, work) == [
        (0, 200, "shift_ends"), (200, 300, "no_crew_on_shift"), (300, 600, "no_skill"),
    ]  # fmt: skip
    assert [reason.words for reason in found] == [
        "laying the cover takes 120 min; red finishes Mon 09:20 and nobody follows",
        "no crew is on shift from Mon 09:20 until Mon 11:00 (owl)",
        "laying the cover takes 2 people; on shift: owl (1)",
    ]


def test_a_gang_that_follows_but_cannot_do_it_is_not_nobody() -> None:
    # From 581 on a rewet would end after red's shift at 600; owl is there from 550,
    # but is no labourer.
    late = shift("owl", skills=("fogger",), starts_min=550, ends_min=900)
    work = work_list(surface(reserve_at_start_l_m2=0), shifts=(shift(), late),
                     minutes=900)  # fmt: skip
    plan = Plan(prepare(work))
    surface_s = plan.problem.surfaces[0]
    found = Explainer(plan, 590).why_dry(surface_s, 590, 800, covered=True)
    assert spans(found, work) == [(590, 600, "shift_ends"), (600, 800, "no_skill")]
    assert found[0].words == (
        "re-wetting takes 20 min; red finishes Mon 16:00 and nobody who follows can "
        "do it"
    )
    assert found[1].words == (
        "re-wetting takes 1 person (labourer); on shift: owl (2: fogger)"
    )


def test_the_gang_that_follows_is_named() -> None:
    late = shift("owl", starts_min=595, ends_min=900)
    plan = Plan(prepare(work_list(surface(), shifts=(shift(), late), minutes=900)))
    slab = plan.problem.surfaces[0]
    found = Explainer(plan, 585).why_dry(slab, 585, 595, covered=True)
    assert [reason.words for reason in found] == [
        "re-wetting takes 20 min; red finishes Mon 16:00 and owl begins Mon 15:55"
    ]


def test_an_empty_crew_list_gives_gaps_and_no_error() -> None:
    roster = solve(work_list(surface(), shifts=()), Effort(work=0.05))
    assert roster.visits == ()
    (gap,) = roster.gaps
    assert [reason.limit for reason in gap.reasons] == ["no_crew_on_shift"]
    assert gap.reasons[0].words == "no crew is on shift"
    assert roster.cost == 600


def test_the_crew_is_busy_and_it_is_said_with_what() -> None:
    dear = duty("S/look", duration_min=300, missed_cost=10_000, latest_min=310)
    other = surface("T", reserve_at_start_l_m2=0.5)  # dry at 60
    work = work_list(surface("S", tasks=(dear,), rewet=None, curve=None), other)
    (first,) = reasons(work)[0]
    assert first.limit == "crews_busy"
    assert first.words.startswith("red on Slab S (look under the cover) until Mon 11:0")


def test_work_and_breaks_that_follow_are_counted() -> None:
    # Red looks at S from 3 to 33 and from 58 to 88, and rests from 90 to 120.
    looks = tuple(duty(f"S/look{n}", earliest_min=55 * n + 3) for n in (0, 1))
    pause = (Stretch(from_min=90, until_min=120),)
    work = work_list(
        surface("S", tasks=looks, rewet=None, curve=None), surface("T"),
        shifts=(shift(breaks=pause),),
    )  # fmt: skip
    plan = Plan(prepare(work))
    assert plan.change((), (Stop(3, 0, 0, -1), Stop(58, 1, 0, -1)))
    (found,) = Explainer(plan).why_dry(plan.problem.surfaces[1], 0, 120, covered=True)
    # Between 33 and 58 are 25 minutes: 20 for the work, but 3 + 3 for the walks.
    assert (found.limit, found.words) == (
        "crews_busy",
        "re-wetting takes 20 min; red on Slab S (look under the cover) until Mon "
        "06:33, then 1 job and a break until Mon 08:00",
    )


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
    found = Explainer(plan).why_dry(surface_t, 0, 600, covered=True)
    words = [reason.words for reason in found if reason.limit == "unplanned"]
    assert words == ["red could come Mon 11:04; no visit is planned"]


def test_no_crew_has_the_skill() -> None:
    work = work_list(surface(rewet=rewet("S", skills=("sprayer",), people=3)))
    (only,) = reasons(work)[0]
    assert only.limit == "no_skill"
    assert only.words == (
        "re-wetting takes 3 people (sprayer); on shift: red (2: labourer)"
    )


def test_the_flow_is_too_small() -> None:
    (only,) = reasons(work_list(surface(), supplies=(tap(flow_l_min=15),)))[0]
    assert only.limit == "water_flow"
    assert "tap has 15 L/min left" in only.words
    assert "20 L/min are needed" in only.words


def test_crews_and_points_go_by_their_names_and_amounts_by_the_sites_units() -> None:
    supply = tap(flow_l_min=15, name="Quay tap")
    (only,) = reasons(work_list(surface(), supplies=(supply,), units="us"))[0]
    assert "Quay tap has 4.0 US gpm left" in only.words  # 15 / 3.785
    shifts = (shift(crew_name="Red gang"),)
    skilled = work_list(surface(rewet=rewet("S", people=3)), shifts=shifts)
    assert "on shift: Red gang (2)" in reasons(skilled)[0][0].words


def test_the_flow_is_taken_by_others() -> None:
    taken = (TakenFlow(from_min=0, until_min=300, flow_l_min=990),)
    first = reasons(work_list(surface(), supplies=(tap(taken=taken),)))[0][0]
    assert first.limit == "water_flow"
    assert "10 L/min left" in first.words


def test_the_allotment_of_the_day_is_used_up() -> None:
    supply = tap(daily_allotment_l=450, days=(Stretch(from_min=-360, until_min=1080),))
    last = reasons(work_list(surface(), supplies=(supply,)))[-1][-1]
    # two rewets take 400 of 450 litres
    assert last.limit == "water_allotment"
    assert "50 L left of the 450 L of Mon; 200 L are needed" in last.words


def test_the_tank_is_empty_until_it_has_filled() -> None:
    supply = tap(capacity_l=1000, level_at_start_l=0, refill_l_min=1)
    first = reasons(work_list(surface(), supplies=(supply,)))[0][0]
    assert first.limit == "tank_empty"
    assert "200 L are needed, there from Mon 09:19 at the earliest" in first.words


def test_the_rest_between_shifts_forbids_it() -> None:
    # Work to be done late in the first shift leaves no rest before the second.
    late = duty("S/look", earliest_min=560, latest_min=590, missed_cost=10_000)
    shifts = (shift(), shift(id="red/2", starts_min=600, ends_min=1200))
    work = work_list(
        surface("S", tasks=(late,), rewet=None, curve=None), surface("T"),
        shifts=shifts, rest_min=600, minutes=1200,
    )  # fmt: skip
    last = max(reasons(work)[-1], key=lambda reason: reason.ends_at - reason.starts_at)
    assert last.limit == "rest"
    assert last.words == "red would lack the 10 h of rest between shifts"


def test_the_walk_takes_too_long() -> None:
    work = work_list(
        surface(zone_id="B"), zone_ids=("A", "B"), travel_min=((3, 100), (100, 3)),
        water_points={"A": ("tap",), "B": ("tap",)},
    )  # fmt: skip
    (first,) = reasons(work)[0]
    # The re-wetting from 100 to 120 is half done at 110; so little goes with the walk.
    assert spans([first], work) == [(0, 110, "travel")]
    assert first.words == "red begins Mon 06:00 and walks 100 min"


def test_it_may_not_be_covered_yet() -> None:
    lay = duty("S/lay", kind="lay_cover", effect="wet", covers=True, earliest_min=100)
    fresh = (Stretch(from_min=50, until_min=600),)
    work = work_list(surface(tasks=(lay,), covered_from_min=None, fresh=fresh))
    (first,) = reasons(work)[0]
    # Laid from 100 to 130 it is half done at 115.
    assert spans([first], work) == [(50, 115, "window")]
    assert first.words == "laying the cover is not allowed before Mon 07:40"


def test_a_visit_was_possible_but_dearer_than_the_dryness() -> None:
    night = shift(kind="on_call", call_out_cost=1000)
    found = reasons(work_list(surface(), shifts=(night,)))[0]
    price = next(reason for reason in found if reason.limit == "price")
    # Begun at 3 it saves 587 of 600 minutes at 1, if it wets it often: once, it saves
    # 130 of them, from its middle at 13 to 143.
    assert price.words == (
        "red could be called out Mon 06:03, but that would cost 870.0 more than it "
        "saves"
    )


def test_a_cover_that_cannot_be_wetted_is_said_to_be_so() -> None:
    ((only,),) = reasons(work_list(surface(rewet=None)))
    assert (only.limit, only.words) == ("window", "its cover cannot be wetted again")


def test_limits_that_bind_only_together_are_named_together() -> None:
    work = work_list(
        surface(rewet=rewet("S", people=3)), supplies=(tap(flow_l_min=15),)
    )
    (only,) = reasons(work)[0]
    assert only.limit == "no_skill"
    assert only.words == (
        "re-wetting takes 3 people; on shift: red (2), and tap has 15 L/min left at "
        "Mon 06:10; 20 L/min are needed"
    )


def test_a_limit_that_holds_all_along_is_told_once() -> None:
    # The flow is too small all day; that nobody is there at night is beside the point.
    shifts = (shift(ends_min=300),)
    work = work_list(surface(), shifts=shifts, supplies=(tap(flow_l_min=15),))
    (found,) = reasons(work)
    assert spans(found, work) == [(0, 600, "water_flow")]


def test_a_visit_before_the_gap_that_nobody_thought_of_is_named() -> None:
    # Full at 0 and dry from 120; the crew is there until 60 and could wet it then.
    work = work_list(
        surface(reserve_at_start_l_m2=1), shifts=(shift(ends_min=60),), minutes=200
    )
    plan = Plan(prepare(work))
    slab = plan.problem.surfaces[0]
    found = Explainer(plan).why_dry(slab, 120, 200, covered=True)
    # Begun at 40 at the latest it is full at 60 and lasts to 180.
    assert spans(found, work) == [
        (120, 180, "unplanned"), (180, 200, "no_crew_on_shift")
    ]  # fmt: skip
    assert found[0].words == "red could come Mon 06:40; no visit is planned"
    now_it_is_late = Explainer(plan, not_before=90)
    found = now_it_is_late.why_dry(slab, 120, 200, covered=True)
    assert spans(found, work) == [(120, 200, "no_crew_on_shift")]


def test_the_re_wetting_that_ends_a_gap_is_not_in_its_own_way() -> None:
    plan = Plan(prepare(work_list(surface(), shifts=(shift(starts_min=50),))))
    assert plan.change((), (Stop(53, 0, 0, 0),))
    slab = plan.problem.surfaces[0]
    # From 53 to 73 it ends the gap at 63; the walk of 3 before it is told with it.
    found = Explainer(plan).why_dry(slab, 0, 63, covered=True)
    assert [reason.limit for reason in found] == ["no_crew_on_shift", "window"]
    assert found[1].words == (
        "re-wetting begins Mon 06:53 and is half done by Mon 07:03"
    )


def wetted_as_it_dries(*looks: Task) -> Plan:
    """S is wet to 60 and wetted from 60 to 80, dry to the middle; red looks at T."""
    other = surface("T", tasks=looks, rewet=None, curve=None)
    slab = surface(reserve_at_start_l_m2=0.5, ends_min=150)
    plan = Plan(prepare(work_list(slab, other)))
    job = {one.task.id: one.index for one in plan.problem.jobs}
    assert plan.change((), [Stop(60, job["S/rewet"], 0, 0)])
    for look in looks:
        assert plan.change((), [Stop(look.earliest_min, job[look.id], 0, -1)])
    return plan


def test_a_gap_that_is_half_a_visit_says_why_that_comes_no_sooner() -> None:
    # Begun at 50 it would be half done at 60.
    plan = wetted_as_it_dries()
    (found,) = Explainer(plan).why_dry(plan.problem.surfaces[0], 60, 70, covered=True)
    assert found.words == "red could come Mon 06:50, sooner than planned (Mon 07:00)"
    # Red is on T from 27 to 57 and walks for 3.
    plan = wetted_as_it_dries(duty("T/look", earliest_min=27))
    (found,) = Explainer(plan).why_dry(plan.problem.surfaces[0], 60, 70, covered=True)
    assert (found.limit, found.words) == (
        "crews_busy", "red on Slab T (look under the cover) until Mon 06:57"
    )  # fmt: skip
    # The plan begins when it is too late for that.
    late = Explainer(wetted_as_it_dries(), not_before=51)
    (found,) = late.why_dry(late.problem.surfaces[0], 60, 70, covered=True)
    assert found.words == "re-wetting begins Mon 07:00 and is half done by Mon 07:10"


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


def test_what_follows_a_missed_duty_falls_away_with_it() -> None:
    ease = duty(
        "S/ease", kind="loosen", title="Loosen", missed_cost=600, skills=("sprayer",)
    )
    lift = duty(
        "S/lift", kind="remove_cover", missed_cost=600, after=(Link(task_id="S/ease"),)
    )
    (only,) = missed(work_list(with_duties(ease, lift)))
    assert (only.task_id, only.limit, only.fallen) == (
        "S/ease",
        "no_skill",
        ("S/lift",),
    )
    assert only.words.startswith("lifting the cover falls away; ")


def test_a_cover_that_nobody_lays_is_told_with_all_that_falls_away() -> None:
    lay = duty("S/lay", kind="lay_cover", covers=True, skills=("sprayer",))
    on = (Link(task_id="S/lay"),)
    looks = [duty(f"S/look{n}", missed_cost=150, after=on) for n in (1, 2)]
    lift = duty("S/lift", kind="remove_cover", missed_cost=600, after=on)
    work = work_list(
        surface(tasks=(lay, *looks, lift), covered_from_min=None, rewet=None)
    )
    (only,) = missed(work)
    # The laying has no price of its own; what follows it is told with it all the same.
    assert (only.task_id, only.limit) == ("S/lay", "no_skill")
    assert set(only.fallen) == {"S/look1", "S/look2", "S/lift"}
    told = "not covered: its 2 inspections and lifting the cover fall away; "
    assert only.words.startswith(told)


def test_steam_that_the_enclosure_comes_too_late_for_is_told_all_the_same() -> None:
    # Enclosed from 3 to 33 at the soonest; from 30 on the steam could not be on by 60.
    lay = duty("S/lay", kind="lay_cover", covers=True, missed_cost=600)
    on = duty(
        "S/on", kind="start_steam", title="Steam on", missed_cost=600, due_min=50,
        latest_min=60, after=(Link(task_id="S/lay"),),
    )  # fmt: skip
    watch = duty(
        "S/watch", kind="steam_watch", missed_cost=150, after=(Link(task_id="S/on"),)
    )
    work = work_list(surface(tasks=(lay, on, watch), covered_from_min=None, rewet=None))
    (only,) = missed(work)
    assert (only.task_id, only.fallen) == ("S/on", ("S/watch",))


def test_a_duty_that_is_dearer_late_than_left_out_says_why_it_is_late() -> None:
    late = duty("S/look", due_min=30, missed_cost=150, late_cost_per_min=1)
    shifts = (shift(starts_min=300),)
    walking = Costs(travel_cost_per_min=3)
    (only,) = missed(work_list(with_duties(late), shifts=shifts, costs=walking))
    # Begun at 300 it ends at 330, 300 min late, for the most that lateness costs,
    # 0.95 * 150 = 142.5; with three minutes' walk 151.5, more than to leave it out.
    assert only.limit == "no_crew_on_shift"
    assert only.words == "no crew is on shift until Mon 11:00 (red)"


def test_the_week_has_no_hours_left_for_a_call_out() -> None:
    night = shift(kind="on_call", call_out_cost=10)
    full = week(22, regular_min=2858, most_min=2880)
    only = reasons(work_list(surface(), shifts=(night,), hours_limits=(full,)))[0][0]
    # three minutes' walk and twenty of work would be 23
    assert only.limit == "week"
    assert only.words == (
        "red has 22 min left of the 48 h of work in the week from Mon 3 May"
    )


def test_who_places_concrete_cannot_come() -> None:
    # Minute 0 is 06:00. Wet from the middle of a visit that begins at 500.
    placing = BusyStretch(from_min=-60, until_min=500, doing="placing and finishing P3")
    work = work_list(surface(), shifts=(shift(busy=(placing,)),), minutes=600)
    roster = solve(work, Effort(work=0.05))
    assert [visit.starts_at for visit in roster.visits] == [work.horizon.at(500)]
    (only,) = roster.gaps[0].reasons
    assert only.limit == "crews_busy"
    assert only.words == "red is placing and finishing P3 until Mon 14:20"


@pytest.mark.parametrize(
    ("kind", "told"), [("day", "of work on Mon 3 May"), ("call_out", "of its call-out")]
)
def test_a_day_or_a_call_out_has_no_hours_left(kind: str, told: str) -> None:
    night = shift(kind="on_call", call_out_cost=10)
    full = week(22, kind=kind, starts_min=0, regular_min=458, most_min=480)
    only = reasons(work_list(surface(), shifts=(night,), hours_limits=(full,)))[0][0]
    assert only.limit == kind
    assert only.words.startswith(f"red has 22 min left of the 8 h {told}")


def test_nobody_works_in_the_heat_ban() -> None:
    # Wet from 13 on, rewetted by 100 at the latest and dry again at 220; the ban leaves
    # no time for more until 400.
    ban = Stretch(from_min=100, until_min=400)
    roster = solve(work_list(surface(), heat_bans=(ban,)), Effort(work=0.05))
    (found,) = (gap.reasons for gap in roster.gaps if gap.minutes > 13)
    told = {reason.words for reason in found if reason.limit == "heat_ban"}
    assert told == {"nobody works outdoors in the heat ban Mon 07:40–12:40"}
    assert found[0].limit == "heat_ban"
