import pytest

from models.records.site import Zone


@pytest.mark.parametrize(
    ("level", "height_m"),
    [
        ("", 0), ("ground", 0), ("0", 0), ("-1", 0), ("-6.5", 0),
        ("1", 3.5), ("4", 14), (" 4 ", 14),  # storeys of 3.5 m
        ("+2", 2), ("+12.50", 12.5), ("+6 m", 6),  # metres
        ("level 4", 0), ("deck 400", 0), ("+900", 300),
    ],
)  # fmt: skip
def test_a_level_that_is_a_number_says_how_high_its_surfaces_are(
    level: str, height_m: float
) -> None:
    zone = Zone(id="A", name="Deck", level=level, x_m=0, y_m=0, water_points=("tap",))
    assert zone.above_ground_m == height_m
    told = zone.model_copy(update={"height_m": 21.0})
    assert told.above_ground_m == 21
