from hypothesis import given, settings
from hypothesis import strategies as st

from models.records import WorkList
from scheduler.solver.plan.openings import Span, intersected, lane_openings
from scheduler.solver.problem.problem import prepare
from scheduler.solver.settings.settings import DEFAULT
from scheduler.solver.start.dispatch import dispatch
from tests.scheduler.solver.small_weeks import MINUTES, weeks


@st.composite
def spans(draw: st.DrawFn) -> list[Span]:
    """Spans in order that neither overlap nor touch."""
    edges = sorted(draw(st.sets(st.integers(0, 30).map(lambda n: 2 * n), max_size=8)))
    return [(low, high - 1) for low, high in zip(edges[::2], edges[1::2], strict=False)]


def minutes(found: list[Span]) -> set[int]:
    """Every minute of some spans."""
    return {minute for low, high in found for minute in range(low, high + 1)}


@given(spans(), spans())
def test_joint_spans_hold_the_minutes_that_both_hold(
    one: list[Span], other: list[Span]
) -> None:
    both = intersected(one, other)
    assert minutes(both) == minutes(one) & minutes(other)
    assert both == sorted(both)


@settings(max_examples=20, deadline=None)
@given(weeks(), st.integers(0, MINUTES), st.integers(0, 60), st.data())
def test_openings_near_a_stretch_are_those_of_the_shift_that_meet_it(
    work: WorkList, first: int, length: int, data: st.DataObject
) -> None:
    plan = dispatch(prepare(work), DEFAULT.start.rules[0])
    near = first, first + length
    for job in plan.problem.jobs:
        for index in job.lanes:
            lane, stops = plan.problem.lanes[index], plan.by_lane[index]
            but = data.draw(st.sampled_from([None, *stops]))
            whole = lane_openings(plan, job, lane, but=but)
            found = lane_openings(plan, job, lane, near, but=but)
            assert set(found) <= set(whole)
            assert minutes(intersected([near], found)) == minutes(
                intersected([near], whole)
            )
