"""What the board says, read from its page without a browser."""

import re
from xml.etree import ElementTree

from exports.board.board import page, render
from exports.board.strip import FULL, HEIGHT
from models.records import AuditReport
from tests.exports.exports_builders import small_report, small_roster, small_site


def html(report: AuditReport | None = None) -> str:
    return render(page(small_site(), small_roster(), report or small_report(), ()))


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


def test_gaps_are_listed_longest_first_and_link_to_their_strip() -> None:
    listed = re.findall(r'<a href="#s-([^"]+)">', html())
    gaps = sorted(small_report().gaps, key=lambda gap: -gap.minutes)
    assert listed == [gap.surface_id for gap in gaps]


def test_gap_is_an_outlined_hole_as_long_as_it_lasts() -> None:
    report = small_report()
    strips = page(small_site(), small_roster(), report, ()).strips
    for strip in strips:
        gaps = [gap for gap in report.gaps if gap.surface_id == strip.surface_id]
        assert [box.width_min for box in strip.dry] == [gap.minutes for gap in gaps]


def test_level_stands_at_the_share_of_water_left() -> None:
    report = small_report()
    strips = page(small_site(), small_roster(), report, ()).strips
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
