"""Water by the length of the hose: zone A stands at 0, 0, zone B at 120, 15 m."""

from pathlib import Path

import pytest

from models.files.site_folder import read_site
from tests.models.files.folders import SITE, changed, write_site
from tests.models.files.problem_lines import only

TAP, TANK = 'kind = "mains"', 'kind = "tank"'
ZONE_A, ZONE_B = 'water_points = ["tap", "tank"]\n', 'water_points = ["tank"]\n'


def site(tap: str, tank: str, *left_out: str) -> str:
    """The sample with places of tap and tank, and zones that name no water."""
    text = changed(SITE, (TAP, f"{TAP}\n{tap}"), (TANK, f"{TANK}\n{tank}"))
    return changed(text, *((zone, "") for zone in left_out))


def test_zones_without_points_have_those_that_reach_them_nearest_first(
    tmp_path: Path,
) -> None:
    # tank at 60, 0: 60 m from A, 61.8 m from B; tap at 10, 0: 10 m and 111 m
    text = site(
        "x = 10\ny = 0\nreach = 50", "x = 60\ny = 0\nreach = 62", ZONE_A, ZONE_B
    )
    zones = read_site(write_site(tmp_path, {"site.toml": text})).site.zones
    assert [zone.water_points for zone in zones] == [("tap", "tank"), ("tank",)]


@pytest.mark.parametrize(
    ("tap", "tank", "left_out", "said"),
    [
        ("", "x = 60\ny = 0\nreach = 61", (),
         "[[zone]] water_points: found 'tank', 62 m away; expected a water point "
         "within "
         "reach; its hose reaches 61 m"),
        ("x = 10\ny = 0\nreach = 50", "", (ZONE_B,),
         "[[zone]] water_points: missing; expected ids of water points, or a "
         "[[water]] whose reach covers the zone"),
        ("x = 10\nreach = 50", "", (),
         "[[water]] y: missing; expected where it stands, x and y in m"),
        ("x = 10\ny = 0\nreach = 0", "", (),
         "[[water]] reach: found 0; expected a length above 0 m"),
    ],
)  # fmt: skip
def test_water_out_of_reach_is_one_problem(
    tmp_path: Path, tap: str, tank: str, left_out: tuple[str, ...], said: str
) -> None:
    assert said in only(write_site(tmp_path, {"site.toml": site(tap, tank, *left_out)}))
