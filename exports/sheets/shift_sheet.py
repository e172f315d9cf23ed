"""What a shift sheet says: the contract between the words and the page.

Every string is ready to print; ``shift_sheet.typ`` lays out and adds only the fixed
labels of a form (column heads, lines to sign on).
"""

from typing import Literal

from exports.breaches import HEADING
from models.quantities import Instant
from models.records import Record


class SheetRow(Record):
    """One visit, a row to tick off.

    Attributes
    ----------
    start_by, planned : str
        Latest start that is not late, and the planned one.
    late : bool
        Planned after its latest start.
    was : str
        How it was in the issue before; empty where nothing is news.
    title, place : str
        Verb, surface and amount; zone, level and grid.
    people, time : str
        How many, how long.
    water_point, water : str
        Where from, how much and how fast; empty if none is needed.
    dry_by, state : str
        When the cover would be dry unless re-wetted, and how wet it should be now.
    """

    start_by: str
    planned: str
    late: bool
    was: str = ""
    title: str
    place: str
    people: str
    time: str
    water_point: str
    water: str
    dry_by: str
    state: str


class HoldPoint(Record):
    """What has to be seen before a pour is placed, check by check."""

    title: str
    checks: tuple[str, ...]


class SheetPage(Record):
    """The rows of one printed page."""

    number: str
    rows: tuple[SheetRow, ...]


class SheetBreach(Record):
    """A limit on temperature that is left, what to do, a line a surface."""

    heading: str
    do: str
    lines: tuple[str, ...]


class ShiftSheet(Record):
    """One crew's shift on paper; more than one page only for many visits.

    Attributes
    ----------
    title : str
        Of the document, for screen readers and file lists.
    revision : str
        Which roster it was printed from.
    issue : str
        Its number and when it came out, or that it is a ``draft``.
    changed : str
        Since which issue; empty where there was none before.
    taken_off : tuple of str
        Lines: visits that the shift had and has no more.
    breaks : str
        When this crew does not work; empty if it has no break.
    other_work : str
        What else it is on, and when; it cures nothing then.
    zone_note : str
        Time zone of all times on the sheet, or that clocks change in this shift.
    breaches : tuple of SheetBreach
        What is most dangerous; on top of the first page.
    hold_points : tuple of HoldPoint
        Of the shift, to tick off one by one.
    weather, water, dry, cautions, coming : tuple of str
        Lines; ``dry`` are stretches the roster itself leaves dry, ``coming`` the
        first tasks after this shift.
    """

    title: str
    paper: Literal["a4", "us-letter"]
    published_at: Instant
    site: str
    crew: str
    lead: str
    phone: str
    shift: str
    breaks: str = ""
    other_work: str = ""
    zone_note: str
    breach_heading: str = HEADING
    breaches: tuple[SheetBreach, ...] = ()
    revision: str
    issue: str
    draft: bool
    changed: str = ""
    taken_off: tuple[str, ...] = ()
    weather: tuple[str, ...]
    water: tuple[str, ...]
    bring: str
    pages: tuple[SheetPage, ...]
    hold_points: tuple[HoldPoint, ...] = ()
    dry: tuple[str, ...]
    cautions: tuple[str, ...]
    standing_orders: str
    coming: tuple[str, ...]
    aid: str
