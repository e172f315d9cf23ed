"""What steers the search is one record, and another one steers it in both processes."""

from dataclasses import FrozenInstanceError, fields, replace
from io import BytesIO

import pytest

from scheduler.solver.problem.problem import prepare
from scheduler.solver.settings.settings import DEFAULT, Settings
from scheduler.solver.start.dispatch import best_start, dispatch
from scheduler.solver.workers.pickler import receive_problem, send_problem
from tests.bench.instances import Size, instance


def by_one_rule(number: int) -> Settings:
    rules = (DEFAULT.start.rules[number],)
    return replace(DEFAULT, start=replace(DEFAULT.start, rules=rules))


def test_every_group_is_frozen() -> None:
    for group in fields(DEFAULT):
        settings = getattr(DEFAULT, group.name)
        with pytest.raises(FrozenInstanceError, match="cannot assign"):
            setattr(settings, fields(settings)[0].name, 0)


@pytest.mark.parametrize("number", [0, 3])
def test_a_problem_is_started_by_its_own_settings(number: int) -> None:
    problem = prepare(instance(Size(4, days=2), 1), by_one_rule(number))
    rule = DEFAULT.start.rules[number]
    assert best_start(problem).stops() == dispatch(problem, rule).stops()


def test_the_second_process_gets_the_settings_with_the_problem() -> None:
    pipe = BytesIO()
    send_problem(prepare(instance(Size(2, days=1), 1), by_one_rule(3)), pipe)
    pipe.seek(0)
    assert receive_problem(pipe).settings == by_one_rule(3)
