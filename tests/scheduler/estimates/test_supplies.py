"""What a method puts on a surface."""

from models.records import Material, Supply
from scheduler.estimates.supplies import supplies_of
from tests.scheduler.estimates.advise_builders import lay, task


def stuff(name: str, amount: str = "") -> tuple[Material, ...]:
    return (Material(name=name, amount=amount),)


def test_parts_of_a_cover_are_added_and_its_lifting_is_not() -> None:
    tasks = (
        lay(id="lay-1", materials=stuff("burlap", "150 m²")),
        lay(id="lay-2", materials=stuff("burlap", "150 m²")),
        task("remove", kind="remove_cover", materials=stuff("burlap", "300 m²")),
    )
    assert supplies_of(tasks) == (Supply(name="burlap", area_m2=300),)


def test_two_coats_are_what_was_mixed_for_them() -> None:
    tasks = (
        task("mix", kind="mix_compound", materials=stuff("compound", "60 L")),
        task("coat1", kind="spray_compound", materials=stuff("compound", "30 L")),
        task("coat2", kind="spray_compound", materials=stuff("compound", "30 L")),
    )
    assert supplies_of(tasks) == (Supply(name="compound", volume_l=60),)


def test_water_and_what_a_hold_point_looks_at_are_no_supplies() -> None:
    tasks = (
        task("hold", kind="hold_point", materials=stuff("sheet, tape", "200 m²")),
        task("soak", kind="soak", materials=stuff("water", "300 L")),
    )
    assert supplies_of(tasks) == ()


def test_an_amount_in_other_words_keeps_its_name() -> None:
    tasks = (lay(materials=stuff("sand", "a load")),)
    assert supplies_of(tasks) == (Supply(name="sand"),)


def test_amounts_in_us_units_are_read_back() -> None:
    (found,) = supplies_of([lay(materials=stuff("burlap", "1,000 ft²"))])
    assert found.area_m2 is not None
    assert round(found.area_m2, 1) == 92.9  # 1000 × 0.3048²
