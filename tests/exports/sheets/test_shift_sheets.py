"""What stands on a shift sheet."""

import re
from collections.abc import Sequence
from datetime import UTC, datetime, timedelta

from exports.entries import entries
from exports.entry import Entry
from exports.handed import draft
from exports.sheets import ShiftSheet, shift_sheet_files, shift_sheets
from exports.sheets.render import render
from exports.sheets.shift_sheet import SheetBreach
from models.records import (
    AuditReport,
    BreakTrace,
    Gap,
    OtherWorkTrace,
    Reason,
    ShiftTrace,
)
from tests.builders import MONDAY, weather
from tests.exports.exports_builders import (
    DRAFT,
    breach_finding,
    frosty_report,
    small_report,
    small_roster,
    small_site,
)


def sheets(
    starts_at: datetime = MONDAY, **site_fields: object
) -> dict[str, ShiftSheet]:
    site = small_site(**site_fields)
    roster, report = small_roster(starts_at), small_report(starts_at)
    return dict(
        shift_sheets(
            site,
            roster,
            report,
            entries(site, roster, report),
            weather(),
            draft(roster),
        )
    )


def breaches(report: AuditReport) -> dict[str, tuple[SheetBreach, ...]]:
    site, roster = small_site(), small_roster()
    words = entries(site, roster, report)
    made = shift_sheets(site, roster, report, words, None, DRAFT)
    return {name: sheet.breaches for name, sheet in made}


def test_frost_of_the_night_after_stands_on_the_sheet_of_the_day() -> None:
    told = breaches(frosty_report())
    frost, warm = told["2027-05-03-0700-red"]
    assert frost.heading.startswith("Frost on weak concrete: not below 0 °C until it")
    assert frost.do.startswith("Blankets on before the cold comes")
    assert frost.lines == (
        "B2 quay slab: Tue 00:00–06:00; down to -4 °C, coldest Tue 00:00",
    )
    assert warm.lines[0].startswith("Stair core wall, north: Mon 12:40–16:00; ")
    # The core has cooled before the night shift, the frost is over by Tuesday's.
    assert told["2027-05-03-2200-owl"] == (frost,)
    assert told["2027-05-04-0700-red"] == ()


def test_a_later_breach_stands_where_its_surface_is_worked_on() -> None:
    """Tue 13:00 to 14:00; Monday's day shift ends 17:00, its night at Tue 06:00."""

    def told(surface_id: str) -> list[int]:
        later = breach_finding("too_hot", 1860, 1920, surface_id, value=74, limit=70)
        report = small_report().model_copy(update={"findings": (later,)})
        return [len(each) for each in breaches(report).values()]

    assert told("P3-wall") == [1, 1, 1]  # the day shift sprays the wall on Monday
    assert told("P9-top") == [0, 1, 1]  # nobody works there


def test_of_many_breaches_the_worst_are_printed_and_the_rest_counted() -> None:
    many = tuple(
        breach_finding("too_cold", 1080, 1440, "P1-top", limit=limit)
        for limit in range(1, 10)
    )
    report = small_report().model_copy(update={"findings": many})
    told = breaches(report)["2027-05-03-2200-owl"]
    assert len(told) == 6
    assert told[-1].lines[-1] == "and 3 more: see the board"


def test_one_sheet_a_shift_in_order_of_start() -> None:
    assert list(sheets()) == [
        "2027-05-03-0700-red", "2027-05-03-2200-owl", "2027-05-04-0700-red",
    ]  # fmt: skip


def test_the_head() -> None:
    sheet = sheets()["2027-05-03-2200-owl"]
    assert sheet.crew == "Night pair"
    assert sheet.shift == "Mon 3 May 22:00 CEST to Tue 4 May 06:00 CEST"
    assert sheet.zone_note == "All times CEST."
    assert re.fullmatch("[0-9a-f]{6}", sheet.revision)
    assert sheet.lead == ""
    assert sheets()["2027-05-03-0700-red"].phone == "+49 30 555 01"


def test_breaks_of_the_crew_stand_in_the_head() -> None:
    site, roster, report = small_site(), small_roster(), small_report()
    first, *others = report.shifts
    spans = ((210, 225), (400, 430))  # minutes from 06:00
    breaks = [
        BreakTrace(
            starts_at=MONDAY + timedelta(minutes=a),
            ends_at=MONDAY + timedelta(minutes=b),
        )
        for a, b in spans
    ]
    own = first.model_copy(update={"breaks": tuple(breaks)})
    told = report.model_copy(update={"shifts": (own, *others)})
    made = [sheet for _, sheet in shift_sheets(site, roster, told, (), None, DRAFT)]
    assert [sheet.breaks for sheet in made] == ["09:30–09:45, 12:40–13:10", "", ""]


def test_other_work_of_the_crew_stands_in_the_head() -> None:
    # The day begins at 07:00, minute 60 from 06:00.
    site, roster, report = small_site(), small_roster(), small_report()
    first, *others = report.shifts
    spans = ((0, 250, "placing and finishing P3"), (400, 430, "busy (crane)"))
    other_work = tuple(
        OtherWorkTrace(
            starts_at=MONDAY + timedelta(minutes=a),
            ends_at=MONDAY + timedelta(minutes=b),
            doing=doing,
        )
        for a, b, doing in spans
    )
    own = first.model_copy(update={"other_work": other_work})
    told = report.model_copy(update={"shifts": (own, *others)})
    made = [sheet for _, sheet in shift_sheets(site, roster, told, (), None, DRAFT)]
    assert [sheet.other_work for sheet in made] == [
        "placing and finishing P3 until 10:10, 12:40–13:10 busy (crane)", "", "",
    ]  # fmt: skip
    assert render(made[0]).startswith(b"%PDF")


def test_rows_of_the_night() -> None:
    ((first, second, third),) = (
        page.rows for page in sheets()["2027-05-03-2200-owl"].pages
    )
    assert first.title == "RE-WET Pump pit floor 120 m²"
    # the cover is dry as they come, so there is no time to be dry by
    assert (first.start_by, first.dry_by, first.state) == ("22:30", "", "cover is dry")
    # dry at 06:00, when they go home: 30 min before that
    assert (second.planned, second.start_by) == ("23:50", "05:30")
    assert (second.dry_by, second.state) == ("06:00", "39 % left")
    assert (second.people, second.time) == ("2 people", "30 min")
    assert (second.water_point, second.water) == ("Tap at gate", "180 L, 6 L/min")
    assert (third.place, third.late) == ("Pump hall", False)


def test_a_late_visit_is_marked() -> None:
    (page,) = sheets()["2027-05-04-0700-red"].pages
    assert [row.late for row in page.rows] == [False, False, True, False]


def test_work_without_water_leaves_its_cell_empty() -> None:
    (page,) = sheets()["2027-05-03-0700-red"].pages
    assert (page.rows[0].water_point, page.rows[0].water) == ("", "")


def test_a_limit_on_another_day_is_given_with_its_day() -> None:
    site, roster, report = small_site(), small_roster(), small_report()
    words = entries(site, roster, report)
    moved = [
        words[0].model_copy(update={"start_by_at": MONDAY + timedelta(days=days)})
        for days in (0, 1, 3, 9)
    ]
    sheet = dict(shift_sheets(site, roster, report, moved, None, DRAFT))
    rows = sheet["2027-05-03-0700-red"].pages[0].rows
    assert [row.start_by for row in rows] == [
        "06:00", "Tue 06:00", "Thu 06:00", "Wed 12 May 06:00",
    ]  # fmt: skip


def test_on_the_night_of_a_clock_change_every_time_has_its_zone() -> None:
    # the night pair's rewet at 02:50 CEST, 1070 minutes after this start
    starts_at = datetime(2027, 10, 31, 0, 50, tzinfo=UTC) - timedelta(minutes=1070)
    sheet = next(s for s in sheets(starts_at).values() if s.crew == "Night pair")
    assert sheet.zone_note == "Clocks change: CEST, then CET."
    assert [row.planned for row in sheet.pages[0].rows] == [
        "01:30 CEST", "02:50 CEST", "07:20 CET",
    ]  # fmt: skip


def test_what_to_bring_is_said_once() -> None:
    assert sheets()["2027-05-03-0700-red"].bring == (
        "burlap, two layers (330 m²), hose 50 m, rose nozzle, head lamp, "
        "white compound (18 L)"
    )


def test_dry_stretches_of_the_shift_and_no_others() -> None:
    found = sheets()
    assert found["2027-05-03-0700-red"].dry == (
        "B2 quay slab: Mon 12:00–12:30, 30 min; Red gang on break until fog starts",
    )
    # begins before the night shift, at 19:50, and ends in it
    (line,) = found["2027-05-03-2200-owl"].dry
    assert line == (
        "Pump pit floor: Mon 19:50–22:30, 2 h 40 min; the night pair walks half an hour"
    )
    assert found["2027-05-04-0700-red"].dry == ()


def test_the_longest_dry_stretches_in_order_of_time() -> None:
    site, roster, report = small_site(), small_roster(), small_report()
    gaps = tuple(
        Gap(
            surface_id="P1-top",
            starts_at=MONDAY + timedelta(minutes=100 * i),
            ends_at=MONDAY + timedelta(minutes=100 * i + length),
            covered=True,
            reasons=(
                Reason(
                    starts_at=MONDAY + timedelta(minutes=100 * i),
                    ends_at=MONDAY + timedelta(minutes=100 * i + length),
                    limit="crews_busy",
                    words="busy " * 60,
                ),
            ),
        )
        for i, length in enumerate((20, 50, 30, 10, 40), start=1)
    )
    dry = roster.model_copy(update={"gaps": gaps})
    sheet = next(iter(dict(shift_sheets(site, dry, report, (), None, DRAFT)).values()))
    assert [line[14:37] for line in sheet.dry[:3]] == [
        "Mon 09:20–10:10, 50 min", "Mon 11:00–11:30, 30 min",
        "Mon 14:20–15:00, 40 min",
    ]  # fmt: skip
    assert all(len(line) <= 150 for line in sheet.dry)
    assert sheet.dry[3:] == ("and 2 shorter: see the board",)


def test_cautions_are_the_most_frequent_three_and_who_decides_stands_below() -> None:
    site, roster, report = small_site(), small_roster(), small_report()
    entry = entries(site, roster, report)[0]
    minds = [("a", "b"), ("b", "c"), ("d", "c"), ("c", "b")]
    visits = [entry.model_copy(update={"cautions": mind}) for mind in minds]
    sheet = dict(shift_sheets(site, roster, report, visits, None, DRAFT))
    assert sheet["2027-05-03-0700-red"].cautions == ("b", "c", "a")
    assert "competent or licensed people come first" in (
        sheet["2027-05-03-0700-red"].aid
    )


def test_the_first_tasks_after_the_shift() -> None:
    found = sheets()
    assert found["2027-05-03-0700-red"].coming == (
        "22:30 RE-WET Pump pit floor 120 m² (Night pair)",
        "23:50 RE-WET B2 quay slab 300 m² (Night pair)",
        "Tue 05:20 RE-WET Pump pit floor 120 m² (Night pair)",
    )
    assert found["2027-05-04-0700-red"].coming == ()


def test_overtime_of_the_shift_itself_does_not_come_after_it() -> None:
    site, roster, report = small_site(), small_roster(), small_report()
    entry = entries(site, roster, report)[0]
    late = entry.model_copy(update={"starts_at": MONDAY + timedelta(minutes=670)})
    sheet = dict(shift_sheets(site, roster, report, [late], None, DRAFT))
    assert sheet["2027-05-03-0700-red"].coming == ()
    assert len(sheet["2027-05-03-0700-red"].pages[0].rows) == 1


def test_what_happened_out_of_hours_is_on_no_sheet() -> None:
    site, roster, report = small_site(), small_roster(), small_report()
    first, *others = entries(site, roster, report)
    out = first.model_copy(update={"shift_id": ""})

    def rows(words: Sequence[Entry]) -> int:
        made = shift_sheets(site, roster, report, words, None, DRAFT)
        return sum(len(page.rows) for _, sheet in made for page in sheet.pages)

    assert rows([out, *others]) == rows([first, *others]) - 1


def with_call(visits: tuple[Entry, ...]) -> list[str]:
    site, roster, report = small_site(), small_roster(), small_report()
    call = ShiftTrace(
        shift_id="red/call", crew_id="red", starts_at=MONDAY + timedelta(days=5),
        ends_at=MONDAY + timedelta(days=5, hours=16), busy_min=0, travel_min=0,
        overtime_min=0, called_out=bool(visits), on_call=True,
    )  # fmt: skip
    called = report.model_copy(update={"shifts": (*report.shifts, call)})
    return [
        sheet.shift
        for _, sheet in shift_sheets(site, roster, called, visits, None, DRAFT)
    ]


def test_a_sheet_for_a_call_out_but_none_for_waiting_at_home() -> None:
    assert len(with_call(())) == 3
    entry = entries(small_site(), small_roster(), small_report())[0]
    called = entry.model_copy(update={"shift_id": "red/call"})
    assert with_call((called,))[-1] == "Sat 8 May 06:00–22:00 CEST (call-out)"


def test_paper_follows_the_units() -> None:
    assert {sheet.paper for sheet in sheets().values()} == {"a4"}
    assert {sheet.paper for sheet in sheets(units="us").values()} == {"us-letter"}


def test_files_by_name() -> None:
    site, roster, report = small_site(), small_roster(), small_report()
    words = entries(site, roster, report)
    files = shift_sheet_files(site, roster, report, words, None, DRAFT)
    assert list(files) == [
        "2027-05-03-0700-red.pdf", "2027-05-03-2200-owl.pdf",
        "2027-05-04-0700-red.pdf",
    ]  # fmt: skip
    assert all(data.startswith(b"%PDF") for data in files.values())


def test_a_crew_id_cannot_leave_its_folder() -> None:
    site, roster, report = small_site(), small_roster(), small_report()
    crews = (*site.crews, site.crews[0].model_copy(update={"id": "../a/b ü"}))
    odd = ShiftTrace(
        shift_id="s", crew_id="../a/b ü", starts_at=MONDAY,
        ends_at=MONDAY + timedelta(hours=8), busy_min=0, travel_min=0,
        overtime_min=0, called_out=False,
    )  # fmt: skip
    only = report.model_copy(update={"shifts": (odd,)})
    there = site.model_copy(update={"crews": crews})
    ((name, _),) = shift_sheets(there, roster, only, (), None, DRAFT)
    assert name == "2027-05-03-0600-..%2Fa%2Fb %C3%BC"


def test_a_roster_of_the_dry_side_says_so_beside_the_weather() -> None:
    site, report = small_site(), small_report()
    roster = small_roster().model_copy(update={"forecast_side": "dry"})
    given = entries(site, roster, report)
    made = dict(shift_sheets(site, roster, report, given, weather(), DRAFT))
    assert {sheet.weather[-1] for sheet in made.values()} == {
        "Planned for warmer, windier weather without rain"
    }
    assert "dry side" not in "".join(sheets()["2027-05-03-2200-owl"].weather)
