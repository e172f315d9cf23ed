"""``keepdamp advise`` as a person runs it."""

from pathlib import Path

import pytest

from tests.models.files.folders import POURS, changed, write_site
from tests.scheduler.cli.command_line import Ran, run


@pytest.fixture
def advise(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> "Advise":
    monkeypatch.setenv("COLUMNS", "100")
    pours = changed(POURS, ("Q1,A,slab_on_ground", "Q1,A,deck"))
    return Advise(write_site(tmp_path, {"pours.csv": pours}), monkeypatch, capsys)


class Advise:
    """``keepdamp advise SITE``, more words to follow."""

    def __init__(
        self,
        site: Path,
        monkeypatch: pytest.MonkeyPatch,
        capsys: pytest.CaptureFixture[str],
    ) -> None:
        self.site, self._monkeypatch, self._capsys = site, monkeypatch, capsys

    def __call__(self, *words: str) -> Ran:
        return run(self._monkeypatch, self._capsys, "advise", str(self.site), *words)


def test_every_surface_gets_its_best_methods_in_a_sentence(advise: Advise) -> None:
    ran = advise()
    assert ran.code == 0
    assert ran.err == ""
    assert "Q1 Quay slab, top: deck" in ran.out
    assert "crew hours" in ran.out
    assert "* planned" in ran.out
    assert "The specification, the engineer" in " ".join(ran.out.split())
    assert max(len(line) for line in ran.out.splitlines()[:-1]) <= 100


def test_one_pour_gets_figures_cautions_and_reasons(advise: Advise) -> None:
    ran = advise("Q1")
    assert ran.code == 0
    assert "Day/night" in ran.out
    assert "Not suitable here" in ran.out
    assert "UFGS-03300A" in ran.out
    assert "H1" not in ran.out


def test_json_carries_all_of_it(advise: Advise) -> None:
    ran = advise("Q1-top", "--json")
    (advice,) = ran.json
    assert advice["surface_id"] == "Q1-top"
    assert [one["rank"] for one in advice["ranked"]] == list(
        range(1, len(advice["ranked"]) + 1)
    )
    assert {"method", "reason", "nearest"} <= set(advice["refused"][0])


def test_an_unknown_pour_is_told_with_the_nearest(advise: Advise) -> None:
    ran = advise("Q11")
    assert ran.code == 10
    assert ran.out == ""
    told = "found 'Q11'; expected a pour placed before the plan ends, one of: Q1, "
    assert told in ran.err
    assert "Did you mean 'Q1'?" in ran.err


def test_solving_asks_for_a_pour(advise: Advise) -> None:
    ran = advise("--solve")
    assert ran.code == 10
    assert "--solve: missing; expected a POUR beside it" in ran.err


def test_nothing_is_written(advise: Advise) -> None:
    before = sorted(advise.site.rglob("*"))
    advise()
    assert sorted(advise.site.rglob("*")) == before
