"""What the board says, read from its page without a browser."""

import re
from datetime import UTC, datetime, timedelta
from xml.etree import ElementTree

import pytest

from exports.board.board import page, render
from exports.board.strip import FULL, HEIGHT
from models.records import (
    AuditReport,
    BreakTrace,
    Delivery,
    Finding,
    HeatBanTrace,
    Missed,
    Phase,
    Roster,
    TracePoint,
)
from tests.builders import MONDAY
from tests.exports.exports_builders import (
    DRAFT,
    frosty_report,
    small_report,
    small_roster,
    small_site,
)
from tests.exports.issue_builders import second_issue


def html(report: AuditReport | None = None, roster: Roster | None = None) -> str:
    report, roster = report or small_report(), roster or small_roster()
    return render(page(small_site(), roster, report, (), DRAFT))


def test_same_roster_same_bytes() -> None:
    assert html().encode() == html().encode()


def test_page_asks_nothing_of_the_network() -> None:
    assert not re.findall(r"""(?:src|href)\s*=\s*["'](?!#)""", html())
    assert "http:" not in html()
    assert "https:" not in html()
    assert "@import" not in html()
    assert "url(#" in html()  # the one pattern, inside the page
    assert not re.findall(r"url\((?!#)", html())


def test_every_surface_is_a_row_that_can_be_read_out() -> None:
    text = html()
    for trace in small_report().surfaces:
        row = re.search(rf'<tr id="s-{trace.surface_id}" tabindex="0"[^>]*>', text)
        assert row, trace.surface_id
        assert f'aria-label="{trace.label}: wetted' in row[0]


def test_temperatures_outside_their_limits_stand_before_the_gaps() -> None:
    text = html(frosty_report())
    order = [
        "temperature outside its limit on 2 surfaces; 2 dry gaps",
        "Temperature outside its limit</h2>",
        "Frost on weak concrete: not below 0 °C until it has 5.0 MPa (a clause).",
        "Blankets on before the cold comes",
        '<a href="#s-P1-top">B2 quay slab</a>',
        "down to -4 °C, coldest Tue 00:00",
        "Core too warm for the face: at most 20 K warmer (a clause).",
        "Dry gaps</h2>",
    ]
    found = [text.index(words) for words in order]
    assert found == sorted(found)
    assert "Temperature outside its limit</h2>" not in html()


def test_a_breach_is_drawn_and_said_at_its_surface() -> None:
    slab, pit, _ = page(small_site(), small_roster(), frosty_report(), (), DRAFT).strips
    (box,) = slab.breached
    assert (box.from_min, box.width_min) == (1080, 360)
    assert slab.outside == ("Frost on weak concrete: down to -4 °C, coldest Tue 00:00",)
    assert slab.spoken.startswith(
        "B2 quay slab: Frost on weak concrete Tue 4 May 00:00"
    )
    assert pit.breached == ()
    assert pit.outside == ()


def test_of_many_breaches_the_less_dangerous_are_folded_away() -> None:
    report = frosty_report()
    warm = report.findings[0]
    many = tuple(
        warm.model_copy(
            update={
                "breach": warm.breach and warm.breach.model_copy(update={"limit_k": i})
            }
        )
        for i in range(1, 26)
    )
    made = page(
        small_site(),
        small_roster(),
        report.model_copy(update={"findings": many}),
        (),
        DRAFT,
    )
    assert sum(group.count for group in made.breaches) == 20
    assert "5 more, none more dangerous" in render(made)


def test_gaps_are_listed_longest_first_and_link_to_their_strip() -> None:
    listed = re.findall(r'<a href="#s-([^"]+)">', html())
    gaps = sorted(small_report().gaps, key=lambda gap: -gap.minutes)
    assert listed == [gap.surface_id for gap in gaps]


def test_of_many_gaps_all_but_the_longest_are_folded_away() -> None:
    roster = small_roster()
    first = roster.gaps[0]
    many = tuple(
        first.model_copy(update={"minutes": minutes}) for minutes in range(1, 26)
    )
    text = html(roster=roster.model_copy(update={"gaps": many}))
    shown, _, folded = text.partition("<details>")
    assert shown.count('<th scope="row"><a href="#s-') == 20
    assert folded.count('<th scope="row"><a href="#s-') == 5
    assert "<summary>5 more, none longer</summary>" in folded
    assert "<details>" not in html()


def test_a_duty_that_nobody_does_stands_on_the_board_with_its_reason() -> None:
    missed = Missed(
        task_id="P2-top/inspect/1", surface_id="P2-top", limit="crews_busy",
        words="Red gang on B2 quay slab until Tue 10:00",
    )  # fmt: skip
    text = html(roster=small_roster().model_copy(update={"missed": (missed,)}))
    assert "Work left undone" in text
    # due at minute 1600 from Monday 04:00 UTC, 06:00 site time
    assert "<td>Tue 4 May 08:40 CEST</td><td>Red gang on B2 quay slab" in text
    assert "Work left undone" not in html()


def test_gap_is_an_outlined_hole_as_long_as_it_lasts() -> None:
    report = small_report()
    strips = page(small_site(), small_roster(), report, (), DRAFT).strips
    for strip in strips:
        gaps = [gap for gap in report.gaps if gap.surface_id == strip.surface_id]
        assert [box.width_min for box in strip.dry] == [gap.minutes for gap in gaps]


def test_level_stands_at_the_share_of_water_left() -> None:
    report = small_report()
    strips = page(small_site(), small_roster(), report, (), DRAFT).strips
    for trace, strip in zip(report.surfaces, strips, strict=True):
        for edge in strip.edge:
            for pair in edge.split():
                height = HEIGHT - float(pair.split(",")[1])
                assert -0.01 <= height <= FULL + 0.01
        if trace.points and strip.edge:
            first = strip.edge[0].split()[0]
            point = next(
                p for p in trace.points if p.at >= small_roster().horizon.starts_at
            )
            share = (HEIGHT - float(first.split(",")[1])) / FULL
            assert abs(share - point.reserve_l_m2 / trace.held_l_m2) < 0.001


def test_names_cannot_become_markup() -> None:
    report = small_report()
    nasty = report.surfaces[0].model_copy(
        update={"label": '<script>alert("x")</script>'}
    )
    text = html(report.model_copy(update={"surfaces": (nasty, *report.surfaces[1:])}))
    assert "<script>alert" not in text
    assert "&lt;script&gt;" in text


def test_pictures_are_well_formed() -> None:
    pictures = re.findall(r"<svg role=.*?</svg>", html(), re.S)
    assert len(pictures) >= len(small_report().surfaces)
    for picture in pictures:
        ElementTree.fromstring(picture)


def changed(**fields: object) -> AuditReport:
    report = small_report()
    slab, pit, wall = report.surfaces
    pit = pit.model_copy(update=fields)
    return report.model_copy(update={"surfaces": (slab, pit, wall)})


def phases(*parts: tuple[str, int, int]) -> tuple[Phase, ...]:
    return tuple(
        Phase.model_validate(
            {
                "kind": kind,
                "starts_at": MONDAY + timedelta(minutes=start),
                "ends_at": MONDAY + timedelta(minutes=end),
            }
        )
        for kind, start, end in parts
    )


def test_a_pond_goes_on_with_the_level_of_the_cover_before_it() -> None:
    """Burlap half empty at 600, filled to 25 L/m², three fifths left at 1200."""
    points = (
        TracePoint(at=MONDAY, reserve_l_m2=0.8),
        TracePoint(at=MONDAY + timedelta(minutes=600), reserve_l_m2=0.4),
        TracePoint(at=MONDAY + timedelta(minutes=600), reserve_l_m2=25, held_l_m2=25),
        TracePoint(at=MONDAY + timedelta(minutes=1200), reserve_l_m2=15, held_l_m2=25),
    )
    report = changed(
        points=points, phases=phases(("covered", 0, 600), ("ponded", 600, 1200))
    )
    pit = page(small_site(), small_roster(), report, (), DRAFT).strips[1]
    # Full is 20 of 24 high: at the top of the level y is 4, at half 14, at 0.6 12.
    assert pit.edge == ("0,4.00 600,14.00 600,4.00 1200,12.00",)
    assert [(box.from_min, box.width_min) for box in pit.ponded] == [(600, 600)]
    assert pit.ponded[0].words.startswith("under water, Mon 3 May 16:00")


@pytest.mark.parametrize(
    ("kind", "legend", "words"),
    [
        ("ponded", "under water: the level of the pond", "under water, Mon"),
        ("steamed", "in steam", "in steam, Mon"),
        ("automatic", "water on a timer", "water on a timer, Mon"),
        ("insulated", "under blankets, no free water", "under blankets, Mon"),
    ],
)
def test_a_phase_is_in_the_key_only_where_it_is_drawn(
    kind: str, legend: str, words: str
) -> None:
    assert f"</svg>{legend}</li>" not in html()
    text = html(changed(phases=phases((kind, 100, 900))))
    assert f"</svg>{legend}</li>" in text
    assert re.search(rf'class="{kind}" [^>]*><title>{words}', text)


def test_dryness_that_no_gap_counts_is_said_beside_the_gaps() -> None:
    report = small_report()
    pit = report.gaps[0].surface_id
    told = tuple(
        Finding.model_validate(
            {
                "kind": kind, "words": f"words of {kind}", "starts_at": MONDAY,
                "ends_at": MONDAY, "surface_id": pit,
            }
        )
        for kind in ("late_change", "automatic_short", "late")
    )  # fmt: skip
    text = html(report.model_copy(update={"findings": told}))
    assert "<li>words of late_change</li>" in text
    assert "<li>words of automatic_short</li>" in text
    assert "words of late<" not in text


def note_of_the_pit(zone_name: str) -> str:
    site = small_site()
    zones = tuple(
        zone.model_copy(update={"name": zone_name}) if zone.id == "B" else zone
        for zone in site.zones
    )
    there = site.model_copy(update={"zones": zones})
    text = render(page(there, small_roster(), small_report(), (), DRAFT))
    (note,) = re.findall(r"<b>Pump pit floor</b><small>([^<]*)</small>", text)
    return str(note)


def test_zone_is_not_said_twice() -> None:
    assert note_of_the_pit("Pump pit").startswith("120 m²")
    assert note_of_the_pit("Pump hall").startswith("Pump hall; 120 m²")


def test_the_board_says_if_it_was_planned_on_the_dry_side() -> None:
    roster = small_roster().model_copy(update={"forecast_side": "dry"})
    report = small_report().model_copy(update={"forecast_dry_min": 95})
    text = html(report, roster)
    assert "Planned for warmer, windier weather than forecast, without rain." in text
    assert "If the weather is as forecast: dry for 1 h 35 min." in text
    assert "dry side" not in html()


def test_a_break_is_a_gap_in_the_frame_of_its_shift() -> None:
    report = small_report()
    first, *others = report.shifts
    at = first.starts_at
    pause = BreakTrace(
        starts_at=at + timedelta(hours=5), ends_at=at + timedelta(hours=5, minutes=30)
    )
    own = first.model_copy(update={"breaks": (pause,)})
    text = html(report.model_copy(update={"shifts": (own, *others)}))
    # the shift begins at 07:00, an hour after the week
    assert '<rect class="pause" x="360.0" y="0" width="30.0"' in text
    assert "walking; break 12:00–12:30</title>" in text
    assert 'class="pause"' not in html()


def test_a_heat_ban_has_a_row_of_its_own() -> None:
    at = small_report().shifts[0].starts_at
    ban = HeatBanTrace(starts_at=at, ends_at=at + timedelta(hours=2))
    text = html(small_report().model_copy(update={"heat_bans": (ban,)}))
    assert "nobody works outdoors" in text
    assert "nobody works outdoors" not in html()


def test_a_delivery_that_may_be_late_is_told_with_when_the_plan_counts_on_it() -> None:
    site = small_site()
    first, *others = site.water_points
    load = Delivery(
        at=datetime(2027, 5, 12, 9, tzinfo=UTC), litres_l=500, late_by_h=2.5
    )
    late = first.model_copy(update={"deliveries": (load,)})
    there = site.model_copy(update={"water_points": (late, *others)})
    text = render(page(there, small_roster(), small_report(), (), DRAFT))
    # 09:00 UTC is 11:00 on the site, and 13:30 two hours and a half later
    told = r"delivery due [^;]*11:00[^;]* counted on from [^;]*13:30"
    assert re.search(told, text)


def test_the_changes_of_an_issue_are_listed_by_crew() -> None:
    text = render(
        page(small_site(), small_roster(), small_report(), (), second_issue())
    )
    assert "Issue 2, Mon 3 May 09:00 CEST" in text
    assert "Changed since issue 1" in text
    assert "11 visits kept, 1 moved, 1 given to another crew" in text
    assert "<td>was 11:10</td>" in text
    assert text.index("Changed since issue 1") < text.index('id="gaps-head"')


def test_a_draft_is_marked_and_has_no_changes() -> None:
    text = html()
    assert '<b class="draft">DRAFT, not published</b>' in text
    assert "Changed since" not in text
