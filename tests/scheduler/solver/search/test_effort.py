import pytest

from scheduler.solver.search.effort import Effort
from scheduler.solver.settings.settings import DEFAULT

SETTINGS = DEFAULT.effort


def test_the_default_grows_with_the_site() -> None:
    assert Effort().budget(60, SETTINGS) > 2 * Effort().budget(15, SETTINGS)


def test_work_that_is_given_is_what_is_spent() -> None:
    assert Effort(work=2.5).budget(60, SETTINGS) == 2.5


@pytest.mark.parametrize(
    ("effort", "words"),
    [(Effort(), "fixed work"), (Effort(work=2), "work 2"), (Effort(seconds=9), "9 s")],
)
def test_an_effort_says_what_it_is(effort: Effort, words: str) -> None:
    assert effort.words == words


def test_efforts_that_mean_nothing_are_refused() -> None:
    with pytest.raises(ValueError, match="0 or more"):
        Effort(work=-1)
    with pytest.raises(ValueError, match="0 or more"):
        Effort(seconds=float("nan"))
    with pytest.raises(ValueError, match="not both"):
        Effort(work=1, seconds=1)


def test_seconds_leave_time_for_what_comes_after_and_work_does_not() -> None:
    assert Effort(seconds=9).less(4) == Effort(seconds=5)
    assert Effort(seconds=3).less(4) == Effort(seconds=0)
    assert Effort(work=2).less(4) == Effort(work=2)
