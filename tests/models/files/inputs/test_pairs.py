"""Gangs that name no parties: pairs, an odd one, or all together."""

from pathlib import Path

import pytest

from models.files.inputs.pairs import in_pairs
from models.files.site_folder import read_site
from models.records import Crew, Party
from tests.models.files.folders import SITE, changed, write_site


def gang(**fields: object) -> Crew:
    base: dict[str, object] = {
        "id": "reed", "name": "Reed gang", "people": 4, "home_zone": "A",
        "shifts": ("day",),
    }  # fmt: skip
    return Crew.model_validate(base | fields)


@pytest.mark.parametrize(
    ("people", "parted"),
    [(1, []), (2, []), (3, [2, 1]), (4, [2, 2]), (5, [2, 2, 1]), (6, [2, 2, 2])],
)
def test_a_gang_of_three_or_more_goes_in_pairs(people: int, parted: list[int]) -> None:
    crew = in_pairs(gang(people=people), frozenset({"reed"}))
    assert [party.people for party in crew.parties] == parted
    assert all(party.by_default for party in crew.parties)


def test_pairs_have_names_of_their_own() -> None:
    crew = in_pairs(gang(people=5), frozenset({"reed", "reed pair 1"}))
    assert [(p.id, p.name) for p in crew.parties] == [
        ("reed pair 1'", "pair 1"), ("reed pair 2", "pair 2"),
        ("reed one person", "one person"),
    ]  # fmt: skip


def test_a_gang_that_stays_together_or_has_parties_is_left_as_it_is() -> None:
    own = (Party(id="red", name="red", people=2),)
    for crew in (gang(together=True), gang(parties=own)):
        assert in_pairs(crew, frozenset()) == crew


def test_a_gang_that_only_comes_when_called_comes_as_a_whole(tmp_path: Path) -> None:
    site = changed(SITE, ('shifts = ["day", "weekend"]', 'shifts = ["weekend"]'))
    red, owl = read_site(write_site(tmp_path, {"site.toml": site})).site.crews
    assert (red.parties, owl.parties) == ((), ())
