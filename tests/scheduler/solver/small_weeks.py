"""Small random work lists: a strategy that the property tests of the solver share."""

from hypothesis import strategies as st

from models.records import (
    BusyStretch,
    CrewShift,
    Link,
    Published,
    PublishedVisit,
    Stretch,
    SurfaceWork,
    Task,
    WorkList,
)
from tests.builders import work_for_nothing
from tests.scheduler.solver.solver_builders import (
    duty,
    rewet,
    shift,
    surface,
    tap,
    work_list,
)

MINUTES = 200
DAY = Stretch(from_min=-360, until_min=1080)


@st.composite
def surfaces(draw: st.DrawFn, name: str) -> SurfaceWork:
    """Covered already, or to be covered, perhaps soaked after; some with duties."""
    takes = draw(st.sampled_from((10, 20, 35)))
    wet = rewet(name, duration_min=takes + 10, people=draw(st.integers(1, 2)))
    fields: dict[str, object] = {
        "zone_id": draw(st.sampled_from("AB")),
        "rewet": wet,
        "weights": ({"from_min": 0, "per_min": draw(st.integers(1, 4))},),
    }
    tasks: list[Task] = []
    if draw(st.booleans()):
        fields["reserve_at_start_l_m2"] = draw(
            st.floats(0, 1).map(lambda x: round(x, 3))
        )
    else:
        first = draw(st.integers(0, 80))
        lay = duty(
            f"{name}/lay", kind="lay_cover", effect="protect", covers=True,
            earliest_min=first, people=draw(st.integers(1, 2)),
        )  # fmt: skip
        soak = duty(
            f"{name}/soak", kind="soak", effect="wet", duration_min=10, missed_cost=50,
            late_cost_per_min=1, after=(Link(task_id=lay.id, max_gap_min=20),),
        )  # fmt: skip
        if draw(st.booleans()):
            strip = {"share_fraction": 0.5, "strip": True, "job": "lay"}
            half = lay.model_copy(update=strip)
            first_strip = half.model_copy(
                update={"id": f"{name}/lay-1", "covers": False}
            )
            mist: dict[str, object] = {
                "id": f"{name}/mist", "kind": "fog", "effect": "protect",
                "covers": False, "share_fraction": 1 / 3, "strip": False,
                "missed_cost": 0,
            }  # fmt: skip
            tasks.append(half.model_copy(update=mist))
            after = (Link(task_id=first_strip.id, from_start=True),)
            lay = half.model_copy(update={"after": after})
            tasks.append(first_strip)
        tasks += [lay, soak]
        fields["covered_from_min"] = None
        fields["fresh"] = (Stretch(from_min=first + 10, until_min=MINUTES),)
    if draw(st.booleans()):
        opens = draw(st.integers(0, 100))
        under = tuple(Link(task_id=task.id) for task in tasks if task.covers)
        tasks.append(
            duty(
                f"{name}/look", earliest_min=opens, due_min=opens + 60,
                latest_min=opens + 100, missed_cost=80, late_cost_per_min=1,
                met_by_wetting=draw(st.booleans()), after=under,
            )
        )  # fmt: skip
    return surface(name, tasks=tuple(tasks), **fields)


@st.composite
def crews(draw: st.DrawFn, name: str) -> CrewShift:
    """A shift, with a break at times, or a call-out, which has none; some overtime."""
    starts = draw(st.integers(0, 60))
    fields: dict[str, object] = {
        "starts_min": starts, "ends_min": starts + draw(st.integers(60, 140)),
        "people": draw(st.integers(1, 3)), "home_zone": draw(st.sampled_from("AB")),
        "overtime_max_min": draw(st.sampled_from((0, 30))),
    }  # fmt: skip
    if draw(st.booleans()):
        return shift(name, kind="on_call", call_out_cost=60.0, **fields)
    pause = (Stretch(from_min=starts + 40, until_min=starts + 55),)
    fields["breaks"] = draw(st.sampled_from(((), pause)))
    other = BusyStretch(from_min=starts + 60, until_min=starts + 80, doing="placing P9")
    fields["busy"] = draw(st.sampled_from(((), (other,))))
    return shift(name, **fields)


@st.composite
def weeks(draw: st.DrawFn, most_surfaces: int = 4, most_crews: int = 3) -> WorkList:
    """A few surfaces in two zones, few crews, a tap that may be short and a tank."""
    names = [f"S{n}" for n in range(draw(st.integers(1, most_surfaces)))]
    main = tap(
        id="tap", flow_l_min=draw(st.sampled_from((20, 30, 1000))),
        daily_allotment_l=draw(st.sampled_from((None, 700.0))), days=(DAY,),
    )  # fmt: skip
    tank = tap(
        id="tank", flow_l_min=60, capacity_l=800, level_at_start_l=300,
        refill_l_min=draw(st.sampled_from((0.0, 1.5))), days=(DAY,),
    )  # fmt: skip
    return work_list(
        *(draw(surfaces(name)) for name in names),
        minutes=MINUTES,
        shifts=tuple(
            draw(crews(f"crew{n}")) for n in range(draw(st.integers(1, most_crews)))
        ),
        supplies=(main, tank),
        zone_ids=("A", "B"),
        travel_min=((3, 8), (8, 3)),
        water_points={"A": ("tap",), "B": ("tank", "tap")},
        costs=work_for_nothing(
            travel_cost_per_min=0,
            litre_cost=draw(st.sampled_from((0, 0.05))),
            low_water_factor=draw(st.sampled_from((0, 0.2))),
        ),
    )


@st.composite
def near_published(draw: st.DrawFn, work: WorkList) -> WorkList:
    """The work list, at times with a published roster, not of its making, to stay near.

    That one may end before the list's own horizon does.
    """
    if draw(st.booleans()):
        return work
    until = draw(st.integers(MINUTES // 2, MINUTES))
    crew = st.sampled_from([*(shift.crew_id for shift in work.shifts), "gone"])
    visits = [
        PublishedVisit(task_id=task.id, crew_id=draw(crew), shift_id="", start_min=at)
        for surface in work.surfaces
        for task in (*surface.tasks, surface.rewet)
        if task is not None
        for at in draw(
            st.sets(st.integers(0, until - 1), max_size=1 + (task is surface.rewet))
        )
    ]
    told = Published(from_min=0, until_min=until, visits=tuple(visits), cost=0)
    prices = {
        "change_cost": draw(st.integers(0, 20)),
        "change_beyond_min": draw(st.integers(0, 20)),
    }
    costs = work.costs.model_copy(update=prices)
    return work.model_copy(update={"published": told, "costs": costs})
