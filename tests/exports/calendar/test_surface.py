"""The calendar of a surface."""

from datetime import timedelta

import pytest
from icalendar import Calendar

from exports.calendar import surface_calendar
from models.records import AuditReport, Missed, Phase
from tests.builders import MONDAY
from tests.exports.calendar.ic_checker import faults
from tests.exports.calendar.peers import with_ics, with_vobject
from tests.exports.exports_builders import (
    DRAFT,
    frosty_report,
    small_report,
    small_roster,
    small_site,
)


def calendar(surface_id: str, report: AuditReport | None = None) -> bytes:
    return surface_calendar(
        small_site(), small_roster(), report or small_report(), surface_id, DRAFT
    )


def timed(data: bytes) -> dict[str, tuple[int, int]]:
    """Title to start and end, in minutes from the start of the roster."""
    minute = timedelta(minutes=1)
    return {
        title: ((begin - MONDAY) // minute, (end - MONDAY) // minute)
        for begin, end, title, _ in with_ics(data).values()
    }


@pytest.mark.parametrize("surface_id", ["P1-top", "P2-top", "P3-wall"])
def test_the_checker_finds_nothing(surface_id: str) -> None:
    assert faults(calendar(surface_id)) == []


def test_stages_and_gaps() -> None:
    assert timed(calendar("P1-top")) == {
        "BARE B2 quay slab": (300, 480),
        "DRY B2 quay slab": (360, 390),
        "UNDER COVER B2 quay slab": (480, 2160),
    }
    assert timed(calendar("P3-wall")) == {
        "BARE Stair core wall, north": (500, 545),
        "SEALED Stair core wall, north": (545, 2160),
    }


def test_frost_has_an_entry_of_its_own_and_is_said_on_the_stages_before_its_end() -> (
    None
):
    data = calendar("P1-top", frosty_report())
    assert faults(data) == []
    assert timed(data)["FROST B2 quay slab"] == (1080, 1440)
    texts = {
        str(event["summary"]): str(event["description"]).splitlines()
        for event in Calendar.from_ical(data).walk("VEVENT")
    }
    assert texts["FROST B2 quay slab"][:3] == [
        "Frost on weak concrete: down to -4 °C, coldest Tue 00:00",
        "Limit: not below 0 °C until it has 5.0 MPa (a clause)",
        "Blankets on before the cold comes, keep forms on, or heat; the engineer "
        "decides what follows.",
    ]
    for stage in ("BARE B2 quay slab", "UNDER COVER B2 quay slab"):
        assert texts[stage][1].startswith("CAUTION Frost on weak concrete Tue 4 May")
    # The wall's core is warm until 600; it is sealed from 545 on.
    wall = calendar("P3-wall", frosty_report())
    assert timed(wall)["CORE TOO WARM Stair core wall, north"] == (400, 600)


def test_a_gap_says_how_long_and_why() -> None:
    (text,) = (
        text
        for _, _, title, text in with_vobject(calendar("P2-top")).values()
        if title.startswith("DRY")
    )
    assert text.split("\n")[:4] == [
        "Mon 3 May 19:50–22:30 CEST, 2 h 40 min: cover dry",
        "Why:",
        "Mon 19:50–22:00: nobody until the night pair",
        "Mon 22:00–22:30: the night pair walks half an hour",
    ]
    (text,) = (
        text
        for _, _, title, text in with_vobject(calendar("P1-top")).values()
        if title.startswith("DRY")
    )
    assert text.split("\n")[1] == "Why: Red gang on break until fog starts"


def test_a_duty_that_nobody_does_is_told_when_it_is_due() -> None:
    missed = Missed(
        task_id="P2-top/inspect/1", surface_id="P2-top", limit="crews_busy",
        words="Red gang on B2 quay slab until Tue 10:00",
    )  # fmt: skip
    roster = small_roster().model_copy(update={"missed": (missed,)})
    data = surface_calendar(small_site(), roster, small_report(), "P2-top", DRAFT)
    assert faults(data) == []
    assert timed(data)["NOT PLANNED: inspect"] == (1600, 1615)  # no entry is shorter


def test_the_end_of_curing_leaves_what_follows_to_the_engineer() -> None:
    report = small_report()
    slab = report.surfaces[0]
    phases = (
        *slab.phases[:-1],
        Phase(
            kind="covered",
            starts_at=MONDAY + timedelta(minutes=480),
            ends_at=MONDAY + timedelta(minutes=2000),
        ),
        Phase(
            kind="done",
            starts_at=MONDAY + timedelta(minutes=2000),
            ends_at=MONDAY + timedelta(minutes=2160),
        ),
    )
    ended = report.model_copy(
        update={"surfaces": (slab.model_copy(update={"phases": phases}),)}
    )
    data = calendar("P1-top", ended)
    assert timed(data)["CURING TIME ENDS B2 quay slab"] == (2000, 2015)
    texts = [text for _, _, _, text in with_ics(data).values()]
    assert any("The engineer decides" in text for text in texts)


def test_nothing_rings() -> None:
    assert b"VALARM" not in calendar("P2-top")


def test_same_bytes_twice() -> None:
    assert calendar("P1-top") == calendar("P1-top")


def test_an_unknown_surface_is_refused() -> None:
    with pytest.raises(ValueError, match="no surface 'P9' in the audit of Heron"):
        calendar("P9")
