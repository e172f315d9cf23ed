"""Walking times."""

from models.records import Site, Zone
from scheduler.methods.resources.travel import travel_min
from tests.builders import site


def with_zones(*zones: Zone) -> Site:
    return site().model_copy(update={"zones": zones})


def zone(zone_id: str, x_m: float, level: str = "0") -> Zone:
    return Zone(
        id=zone_id, name=zone_id, level=level, x_m=x_m, y_m=0, water_points=("tap",)
    )


def test_distance_over_speed_rounded_up() -> None:
    """120 m at 0.5 m/s are 240 s, so 4 min; 121 m are begun a fifth one."""
    assert travel_min(with_zones(zone("A", 0), zone("B", 120))) == ((3, 4), (4, 3))
    assert travel_min(with_zones(zone("A", 0), zone("B", 121)))[0][1] == 5


def test_another_level_takes_its_time() -> None:
    """4 min of walking and 5 of stairs."""
    assert travel_min(with_zones(zone("A", 0), zone("B", 120, "+1")))[0][1] == 9


def test_no_way_is_shorter_than_a_move_within_a_zone() -> None:
    assert travel_min(with_zones(zone("A", 0), zone("B", 1)))[0][1] == 3
