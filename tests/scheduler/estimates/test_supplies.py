"""What a method puts on a surface."""

from models.records import Material, Supply
from scheduler.estimates.supplies import supplies_of
from tests.scheduler.estimates.advise_builders import lay, task


def stuff(name: str, **amount: float) -> tuple[Material, ...]:
    return (Material(name=name, **amount),)


def test_parts_of_a_cover_are_added_and_its_lifting_is_not() -> None:
    tasks = (
        lay(id="lay-1", materials=stuff("burlap", area_m2=150)),
        lay(id="lay-2", materials=stuff("burlap", area_m2=150)),
        task("remove", kind="remove_cover", materials=stuff("burlap", area_m2=300)),
    )
    assert supplies_of(tasks) == (Supply(name="burlap", area_m2=300),)


def test_two_coats_are_what_was_mixed_for_them() -> None:
    tasks = (
        task("mix", kind="mix_compound", materials=stuff("compound", volume_l=60)),
        task("coat1", kind="spray_compound", materials=stuff("compound", volume_l=30)),
        task("coat2", kind="spray_compound", materials=stuff("compound", volume_l=30)),
    )
    assert supplies_of(tasks) == (Supply(name="compound", volume_l=60),)


def test_water_and_what_a_hold_point_looks_at_are_no_supplies() -> None:
    tasks = (
        task("hold", kind="hold_point", materials=stuff("sheet, tape", area_m2=200)),
        task("soak", kind="soak", materials=stuff("water", volume_l=300)),
    )
    assert supplies_of(tasks) == ()


def test_what_has_another_amount_keeps_its_name() -> None:
    tasks = (lay(materials=stuff("sand", length_m=40)),)
    assert supplies_of(tasks) == (Supply(name="sand"),)
