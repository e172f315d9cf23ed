"""The page, read without a browser."""

import re
from xml.etree import ElementTree

import numpy as np

from exports.clocks.page import clock_page
from models.records import (
    AuditReport,
    DryingHistory,
    HydrationHistory,
    Roster,
    SurfaceEvents,
)
from tests.exports.clocks.clocks_builders import IDS, air, drying, hydration
from tests.exports.exports_builders import DRAFT, small_report, small_roster, small_site
from tests.exports.issue_builders import second_issue

NASTY = '</title><script>alert("x")</script>\x07\x00&'


def html(report: AuditReport | None = None) -> str:
    return clock_page(
        small_site(), small_roster(), report or small_report(), air(), hydration(),
        drying(), DRAFT,
    )  # fmt: skip


def nasty_report() -> AuditReport:
    report = small_report()
    first = report.surfaces[0].model_copy(update={"label": NASTY})
    gap = report.gaps[0].model_copy(update={"words": NASTY})
    return report.model_copy(
        update={"surfaces": (first, *report.surfaces[1:]), "gaps": (gap,)}
    )


def test_same_clocks_same_bytes() -> None:
    assert html().encode() == html().encode()


def test_page_asks_nothing_of_the_network_and_runs_no_script() -> None:
    text = html()
    assert not re.findall(r"""(?:src|href)\s*=\s*["'](?!#)""", text)
    assert "http" not in text
    assert "@import" not in text
    assert "<script" not in text
    assert not re.findall(r"url\((?!#(?:bare|hatch|off)\))", text)


def test_pictures_in_the_page_are_well_formed() -> None:
    pictures = re.findall(r"<svg.*?</svg>", html(), re.S)
    assert len(pictures) == 1 + len(IDS)  # the first holds the pattern
    for picture in pictures:
        ElementTree.fromstring(picture)


def test_names_cannot_become_markup() -> None:
    text = html(nasty_report())
    assert "<script" not in text
    pictures = re.findall(r"<svg.*?</svg>", text, re.S)
    spoken = ElementTree.fromstring(pictures[1]).attrib["aria-label"]
    assert spoken.startswith('</title><script>alert("x")</script>&: ')


def test_every_surface_is_linked_and_described() -> None:
    text = html()
    for trace in small_report().surfaces:
        assert f'<a href="#s-{trace.surface_id}">{trace.label}</a>' in text
        assert re.search(rf'<svg[^>]* role="img" aria-label="{trace.label}: ', text)


def test_order_of_the_clocks_columns_does_not_matter() -> None:
    turned = HydrationHistory(
        **(
            vars(hydration())
            | {"surface_ids": IDS[::-1], "events": hydration().events[::-1]}
        )
    )
    text = clock_page(
        small_site(), small_roster(), small_report(), air(), turned, drying(), DRAFT
    )
    assert text == html()  # the three columns of the hydration clock are equal


def test_page_of_sixty_surfaces_is_small() -> None:
    ids = tuple(f"S{i}" for i in range(60))
    heat, dry = hydration(), drying()
    rng = np.random.default_rng(1)
    steps = heat.surface_temperature_c.shape[0]

    def rough(
        base: float, noise: float
    ) -> np.ndarray[tuple[int, int], np.dtype[np.float64]]:
        """Noise at every step: worse than any weather."""
        return base + noise * rng.random((steps, 60))

    events: tuple[SurfaceEvents, ...] = tuple(
        heat.events[0].model_copy(update={"surface_id": each}) for each in ids
    )
    many = HydrationHistory(
        grid=heat.grid, surface_ids=ids, surface_temperature_c=rough(20, 5),
        core_temperature_c=rough(30, 5), mean_temperature_c=rough(25, 5),
        equivalent_age_h=rough(0, 1), strength_fraction=rough(0, 1), events=events,
    )  # fmt: skip
    losses = DryingHistory(
        grid=dry.grid, surface_ids=ids, fresh_rate_kg_m2_h=rough(0.1, 0.5),
        cover_loss_l_m2_h=rough(0.05, 0.3), held_l_m2=np.full(60, 0.8),
        held_steps_l_m2=np.full((steps, 60), 0.8),
        fog_needed=np.zeros((steps, 60), dtype=np.bool_),
    )  # fmt: skip
    report, roster = small_report(), small_roster()
    traces = tuple(report.surfaces[0].model_copy(update={"surface_id": i}) for i in ids)
    works = tuple(roster.surfaces[0].model_copy(update={"surface_id": i}) for i in ids)
    many_roster: Roster = roster.model_copy(update={"surfaces": works})
    text = clock_page(
        small_site(), many_roster, report.model_copy(update={"surfaces": traces}),
        air(), many, losses, DRAFT,
    )  # fmt: skip
    # A day and a half of noise; a week of it would be under five times as much.
    assert len(text.encode()) < 3_000_000 / 2


def test_the_page_says_which_issue_it_is() -> None:
    sources = small_site(), small_roster(), small_report(), air(), hydration(), drying()
    assert "Issue 2, Mon 3 May 09:00 CEST" in clock_page(*sources, second_issue())
    assert '<b class="draft">DRAFT, not published</b>' in html()
