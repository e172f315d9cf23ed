"""Walking times."""

import pytest

from models.records import Site, Zone
from scheduler.audit.replayed.windows import walk_min
from scheduler.methods.resources.travel import travel_min
from tests.builders import site


def with_zones(*zones: Zone) -> Site:
    return site().model_copy(update={"zones": zones})


def zone(zone_id: str, x_m: float, level: str = "0", y_m: float = 0) -> Zone:
    return Zone(
        id=zone_id, name=zone_id, level=level, x_m=x_m, y_m=y_m, water_points=("tap",)
    )


def test_distance_over_speed_rounded_up() -> None:
    """120 m at 0.5 m/s are 240 s, so 4 min; 121 m are begun a fifth one."""
    assert travel_min(with_zones(zone("A", 0), zone("B", 120))) == ((3, 4), (4, 3))
    assert travel_min(with_zones(zone("A", 0), zone("B", 121)))[0][1] == 5


def test_another_level_takes_its_time() -> None:
    """4 min of walking and 5 of stairs."""
    assert travel_min(with_zones(zone("A", 0), zone("B", 120, "+1")))[0][1] == 9


# On the plan 120 m, so 4 min; the first level takes 5 min, each one more 1 min.
@pytest.mark.parametrize(
    ("one", "other", "minutes"),
    [
        ("0", "1", 4 + 5),
        ("0", "9", 4 + 5 + 8),
        ("+2", "-6", 4 + 5 + 2),  # 8 m are two storeys of 3.5 m and a bit
        ("2", "+7", 4),  # the same height by other words
        ("roof", "9", 4 + 5),  # nobody knows how high
        ("-3.5 m", "0", 4 + 5),
    ],
)
def test_each_level_takes_its_time(one: str, other: str, minutes: int) -> None:
    where = with_zones(zone("A", 0, one), zone("B", 120, other))
    assert travel_min(where) == ((3, minutes), (minutes, 3))
    assert walk_min(where, "A", "B") == walk_min(where, "B", "A") == minutes


def test_no_way_is_shorter_than_a_move_within_a_zone() -> None:
    assert travel_min(with_zones(zone("A", 0), zone("B", 1)))[0][1] == 3


def test_the_straight_line_between_true_coordinates() -> None:
    """Sides of 90 and 120 m, so 150 m across (3, 4, 5); west of A it is as far.

    At 0.5 m/s 90 m are 3 min, 120 m 4, 150 m 5 and the 180 m from C to D 6.
    """
    corners = (
        zone("A", 0), zone("B", 90), zone("C", 90, y_m=120), zone("D", -90, y_m=120),
    )  # fmt: skip
    assert travel_min(with_zones(*corners)) == (
        (3, 3, 5, 5),
        (3, 3, 4, 8),  # from B to D √(180² + 120²) = 216.3 m, 7.2 min
        (5, 4, 3, 6),
        (5, 8, 6, 3),
    )


def test_stairs_are_climbed_once_on_top_of_the_way_on_the_plan() -> None:
    """A to C: 150 m and stairs, 5 + 5; B to C one level on: 4 + 5; C and D level."""
    corners = (
        zone("A", 0), zone("B", 90, "+1"), zone("C", 90, "+2", y_m=120),
        zone("D", 90, "+2", y_m=240),
    )  # fmt: skip
    assert travel_min(with_zones(*corners))[2] == (10, 9, 3, 4)
