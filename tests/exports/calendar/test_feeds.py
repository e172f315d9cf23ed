"""All calendars of a roster."""

from exports.calendar import calendars
from exports.entries import entries
from tests.exports.calendar.ic_checker import faults
from tests.exports.exports_builders import DRAFT, small_report, small_roster, small_site


def test_one_file_for_each_crew_and_each_surface() -> None:
    site, roster, report = small_site(), small_roster(), small_report()
    files = calendars(site, roster, report, entries(site, roster, report), DRAFT)
    assert list(files) == [
        "crews/red.ics", "crews/owl.ics", "surfaces/P1-top.ics",
        "surfaces/P2-top.ics", "surfaces/P3-wall.ics",
    ]  # fmt: skip
    assert [faults(data) for data in files.values()] == [[]] * 5
