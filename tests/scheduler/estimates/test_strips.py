"""Strips and fog in shares, as an estimate sees one surface; by hand."""

import numpy as np
import pytest

from models.records import CrewShift, Link, Stretch, SurfaceWork, Task
from scheduler.estimates.diary import Diary
from scheduler.estimates.drying import dry_flags
from scheduler.estimates.duties import book_chain, book_fog
from scheduler.estimates.wetness import wetness_of
from tests.scheduler.estimates.advise_builders import (
    LENGTH,
    fog,
    lay,
    shift,
    surface_work,
    task,
    work_list,
)

BLUE = shift(id="blue/0", crew_id="blue")


def strip(number: int) -> Task:
    """Half of a cover, an hour from minute 120 on, due at 180."""
    last = number == 2
    link = (Link(task_id="P1-top/lay-1", from_start=True),) if last else ()
    return lay(
        id=f"P1-top/lay-{number}", covers=last, share_fraction=0.5, strip=True,
        job="laying", after=link, due_min=180,
    )  # fmt: skip


def booked(*shifts: CrewShift) -> tuple[SurfaceWork, Diary]:
    """Two strips on a top that dries from 120 on, by the crews of these shifts."""
    surface = surface_work(
        strip(1), strip(2), fresh=(Stretch(from_min=120, until_min=LENGTH),)
    )
    diary = Diary(work_list(surface, shifts=shifts), surface, frozenset())
    book_chain(diary, wetness_of(surface, LENGTH), surface.tasks)
    return surface, diary


def test_one_gang_lays_one_strip_after_the_other_and_half_waits() -> None:
    # All of it to the middle of the first, 150; half to that of the second, 210.
    surface, diary = booked(shift())
    assert [b.start_min for b in diary.bookings] == [120, 180]
    bare, _ = dry_flags(wetness_of(surface, LENGTH), diary.bookings, 240)
    assert np.flatnonzero(bare).tolist() == list(range(120, 210))
    assert bare.sum() == pytest.approx(30 + 60 * 0.5)


def test_two_gangs_lay_side_by_side() -> None:
    surface, diary = booked(shift(), BLUE)
    assert [b.start_min for b in diary.bookings] == [120, 120]
    assert {b.shift.crew_id for b in diary.bookings} == {"red", "blue"}
    bare, _ = dry_flags(wetness_of(surface, LENGTH), diary.bookings, 180)
    assert bare.sum() == pytest.approx(30)  # to the middle of both


def test_another_job_waits_until_both_are_done() -> None:
    _, diary = booked(shift(), BLUE)
    prices = diary.prices(task("look"), 111, 180)
    assert np.flatnonzero(np.isfinite(prices)).tolist() == [180 - 111]


def test_a_party_fogs_its_share_beside_a_strip() -> None:
    """A quarter from 120 to 150, when the first half is half laid.

    Three quarters are dry for 30 min, then a half to the middle of the second, 210.
    """
    surface, diary = booked(shift(), BLUE)
    one = booked(shift())[1].bookings
    diary = Diary(work_list(surface, shifts=[shift(), BLUE]), surface, frozenset())
    diary.bookings.extend(one)
    party = fog(120, 30, share_fraction=0.25, job="laying")
    book_fog(diary, wetness_of(surface, LENGTH), [party], 240)
    assert [b.shift.crew_id for b in diary.bookings if b.task == party] == ["blue"]
    bare, _ = dry_flags(wetness_of(surface, LENGTH), diary.bookings, 240)
    assert bare.sum() == pytest.approx(30 * 0.75 + 60 * 0.5)
