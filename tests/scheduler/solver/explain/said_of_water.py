"""What is said of water: too little of it for a visit, and until when."""

import re

from tests.scheduler.solver.explain.told import AMOUNT, TIME, Told, number, says


@says(rf"(\w+) has ({AMOUNT}) left at ({TIME}); ({AMOUNT}) are needed")
def little_flow(told: Told, match: re.Match[str]) -> None:
    assert number(match[2]) < number(match[4]), told.words
    at = told.at(match[3])
    supply = next(s for s in told.work.supplies if s.id == match[1])
    drawn = sum(
        v.task.water.flow_l_min
        for v in told.by.visits
        if v.point == match[1]
        and v.task.water
        and v.start + v.task.water.from_min <= at < v.start + v.task.water.until_min
    )
    most = supply.flow_l_min - drawn + _own_flow(told)
    assert number(match[2]) <= most + 1, told.words
    told.touches(at, at + 1)


@says(
    rf"(\w+) has ({AMOUNT}) left of the ({AMOUNT}) of \w+; ({AMOUNT}) are "
    rf"needed"
)
def little_left(told: Told, match: re.Match[str]) -> None:
    assert number(match[2]) < number(match[4]), told.words
    supply = next(s for s in told.work.supplies if s.id == match[1])
    assert supply.daily_allotment_l == number(match[3]), told.words


@says(
    rf"(\w+) holds ({AMOUNT}) at ({TIME}); ({AMOUNT}) are needed(?:(, and "
    rf"other visits wait for the same water)|(, which it never holds again in "
    rf"the plan)|, there from ({TIME}) at the earliest)"
)
def little_held(told: Told, match: re.Match[str]) -> None:
    held, needed = number(match[2]), number(match[4])
    assert match[5] or held < needed, told.words
    supply = next(s for s in told.work.supplies if s.id == match[1])
    assert held <= (supply.capacity_l or 0), told.words
    if match[6]:
        assert (
            not supply.refill_l_min
            or needed > (supply.capacity_l or 0)
            or (
                (told.work.horizon.length_min - told.start) * supply.refill_l_min
                < needed + told.longest * supply.refill_l_min
            )
        ), told.words
    if match[7]:
        wait = told.at(match[7]) - told.at(match[3])
        assert wait >= (needed - held - 1) / supply.refill_l_min - 1, told.words


def _own_flow(told: Told) -> float:
    """What a visit that would be moved draws where it stands."""
    return max((t.water.flow_l_min for t in told.tasks if t.water), default=0.0)
