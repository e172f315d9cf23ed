"""A visit in words, as phone, paper, screen and table show it.

An :class:`Entry` joins a visit of the roster with its task, its surface and what the
audit found there, in the site's units and by the clock on its wall. It says what the
plan says and no more: never that concrete is safe to load, strike or open.
"""

from pydantic import Field

from models.quantities import Instant
from models.records import Record, TaskKind

TITLE_SIGNS = 40
MAX_CAUTIONS = 3


class Entry(Record):
    """One visit with everything a person needs to do it.

    Attributes
    ----------
    title : str
        Verb, surface, amount; at most 40 visible signs.
    zone_name : str
        Name of the zone alone.
    place, zone_words : str
        Zone, level and grid, with and without the water point.
    start_by_at : Instant
        Latest start in its shift that is not late: by the task's due time, by the
        hand-over from the task before it, for a wetting before its cover is dry, and
        so that it is over by the end of the shift. At once, as the shift begins,
        where all of it is late.
    late : bool
        The plan itself starts late.
    dry_by_at : Instant or None
        When the cover would run dry if nobody wetted it from this visit on; None if
        no cover is on or it lasts to the end of curing or of the forecast.
    state_words : str
        How wet the surface is as the visit starts.
    reserve_words : str
        Share of water left in the cover and when it would be dry; empty where no cover
        dries.
    litres_l : float
        Water drawn; 0 for none. [L]
    water_words, draw_words : str
        How much, how fast, with and without the water point it comes from.
    breaches : tuple of str
        Temperatures of the surface outside their limits, from the visit on; the most
        dangerous first. They stand before the cautions.
    alarms_min : tuple of int
        Minutes before the start, longest first.
    """

    visit_id: str
    kind: TaskKind
    surface_id: str
    surface_label: str
    zone_id: str
    crew_id: str
    crew_name: str
    shift_id: str
    title: str
    task_title: str
    place: str
    zone_name: str
    zone_words: str
    starts_at: Instant
    ends_at: Instant
    start_by_at: Instant
    late: bool
    dry_by_at: Instant | None
    state_words: str
    reserve_words: str
    people: int
    minutes: int
    litres_l: float = Field(ge=0)
    water_point_id: str | None
    water_point_name: str
    water_words: str
    draw_words: str
    materials: tuple[str, ...]
    tools: tuple[str, ...]
    steps: tuple[str, ...]
    log_fields: tuple[str, ...]
    breaches: tuple[str, ...] = ()
    cautions: tuple[str, ...]
    alarms_min: tuple[int, ...]
