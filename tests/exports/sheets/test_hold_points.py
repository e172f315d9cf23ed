"""The lists of hold points on a shift's paper."""

from exports.entries import entries
from exports.entry import Entry
from exports.sheets.hold_points import EVERY_POUR, hold_points
from tests.exports.exports_builders import small_report, small_roster, small_site


def held(label: str, *steps: str) -> Entry:
    first = entries(small_site(), small_roster(), small_report())[0]
    return first.model_copy(
        update={"kind": "hold_point", "surface_label": label, "steps": steps}
    )


def test_one_pour_has_its_whole_list() -> None:
    (point,) = hold_points([held("Quay slab", "See the burlap.", "Name who fogs.")])
    assert point.title == "Quay slab"
    assert point.checks == ("See the burlap.", "Name who fogs.")


def test_what_all_pours_ask_for_is_printed_once() -> None:
    points = hold_points(
        [
            held("Quay slab", "See the burlap.", "Name who fogs."),
            held("Pump pit", "See the sheet.", "Name who fogs."),
        ]
    )
    assert [(p.title, p.checks) for p in points] == [
        ("Quay slab", ("See the burlap.",)),
        ("Pump pit", ("See the sheet.",)),
        (EVERY_POUR, ("Name who fogs.",)),
    ]


def test_other_visits_have_no_list() -> None:
    assert hold_points(entries(small_site(), small_roster(), small_report())) == ()
