"""What the audit found when it played a roster through on its own."""

from datetime import date
from typing import Literal

from pydantic import Field

from models.quantities import Instant
from models.records.base import Record
from models.records.objective import DryShare
from models.records.roster import Gap, Limit

FindingKind = Literal[
    "gap",
    "late",
    "missed",
    "covers_short",
    "cover_stock",
    "laid_dry",
    "cold_water",
    "weather",
    "temperature",
    "overlap",
    "travel",
    "shift",
    "break",
    "heat_ban",
    "rest",
    "week",
    "day",
    "call_out",
    "busy",
    "skill",
    "people",
    "window",
    "order",
    "duration",
    "water_flow",
    "water_allotment",
    "tank_level",
    "automatic_short",
    "late_change",
    "drying_clock",
    "uncredited",
    "uncured",
]
PhaseKind = Literal[
    "fresh", "fogged", "exposed", "covered", "sealed", "automatic", "ponded", "steamed",
    "insulated", "done",
]  # fmt: skip
#: Kinds that no roster may have: the solver promises to keep them.
VIOLATIONS: frozenset[str] = frozenset(
    {
        "overlap", "travel", "shift", "break", "heat_ban", "rest", "week", "day",
        "call_out", "busy", "skill", "people", "window", "order", "duration",
        "water_flow", "water_allotment", "tank_level", "cover_stock", "laid_dry",
        "drying_clock",
        "uncured",
    }
)  # fmt: skip


#: What a temperature does outside its limit; the most dangerous first.
BreachKind = Literal[
    "freezes_before_set",
    "frost",
    "too_hot",
    "core_to_face",
    "cooling",
    "above_air",
    "steam_before_set",
    "too_cold",
]


class Breach(Record):
    """A temperature outside its limit, in figures.

    Attributes
    ----------
    value_c, limit_c : float or None
        The worst, and what is allowed; None where the kind itself says all. [°C]
    value_k, limit_k : float or None
        The same of ``core_to_face``, ``cooling`` and ``above_air``. [K]
    clause : str
        Who sets the limit.
    worst_at : Instant
        When the value is met.
    strength_mpa : float or None
        Of ``frost``: the limit holds until this strength. [MPa]
    within_h : int or None
        Of ``cooling``: the hours in which it cools so far.
    sets_at : Instant or None
        Of what comes before set: when it would set.
    placing_ends_at : Instant or None
        Of ``freezes_before_set``: until then it may be left unplaced.
    """

    kind: BreachKind
    value_c: float | None = None
    limit_c: float | None = None
    value_k: float | None = None
    limit_k: float | None = None
    clause: str = ""
    worst_at: Instant
    strength_mpa: float | None = None
    within_h: int | None = None
    sets_at: Instant | None = None
    placing_ends_at: Instant | None = None

    @property
    def value(self) -> float | None:
        """The worst, a temperature or a difference as the kind has it."""
        return self.value_c if self.value_k is None else self.value_k

    @property
    def limit(self) -> float | None:
        """What is allowed, likewise."""
        return self.limit_c if self.limit_k is None else self.limit_k


class Finding(Record):
    """One thing a person should know, in words; ``breach`` its figures, if it is one.

    Every finding of kind ``temperature`` that the audit makes is a breach.
    """

    kind: FindingKind
    words: str
    starts_at: Instant
    ends_at: Instant
    surface_id: str | None = None
    crew_id: str | None = None
    water_point_id: str | None = None
    limit: Limit | None = None
    minutes: int = 0
    breach: Breach | None = None

    def of(self, who: str, joint: str = ": ") -> "Finding":
        """Begin the words with whom they are about."""
        return self.model_copy(update={"words": f"{who}{joint}{self.words}"})


class TracePoint(Record):
    """Reserve of a cover at an instant; linear to the next point.

    ``held_l_m2`` is what that cover holds, where it is not the trace's.
    """

    at: Instant
    reserve_l_m2: float
    held_l_m2: float | None = None


class Phase(Record):
    """What a surface is in, from one instant to another.

    ``fresh``: bare and within its limits. ``fogged``: bare, fog running. ``exposed``:
    bare, drying, nobody there (a gap). ``covered``: under its cover. ``sealed``:
    compound, or what needs no water either, on. ``automatic``: wetted by a system on
    a timer. ``ponded``: under water. ``steamed``: in live steam. ``insulated``: under
    blankets, without free water. ``done``: curing over.
    """

    kind: PhaseKind
    starts_at: Instant
    ends_at: Instant


class SurfaceTrace(Record):
    """The week of one surface.

    ``part`` is what the label ends in, for those who have to shorten it.
    ``curing_ends_at`` is when curing is over, dry time not counted; None where that is
    not before the forecast ends, or where nothing ever covers it.
    """

    surface_id: str
    label: str
    part: str = Field("", exclude=True)
    zone_id: str
    held_l_m2: float
    phases: tuple[Phase, ...]
    points: tuple[TracePoint, ...]
    wettings: tuple[Instant, ...]
    curing_ends_at: Instant | None = None
    dry_min: int
    weighted_dry_cost: float


class WaterHour(Record):
    """An hour of a water point."""

    at: Instant
    drawn_l: float
    peak_flow_l_min: float
    level_l: float | None = None
    allotment_left_l: float | None = None


class WaterTrace(Record):
    """The week of one water point."""

    water_point_id: str
    hours: tuple[WaterHour, ...]


class ShiftTrace(Record):
    """What a crew did in one shift.

    What a gang does as a whole counts in the traces of its parties too; ``part_of`` is
    the id of its shift, in the trace of a party.
    """

    shift_id: str
    part_of: str = ""
    crew_id: str
    starts_at: Instant
    ends_at: Instant
    busy_min: int
    travel_min: int
    overtime_min: int
    called_out: bool
    on_call: bool = Field(False, description="a stretch on call, not a shift")
    breaks: tuple["BreakTrace", ...] = ()
    other_work: tuple["OtherWorkTrace", ...] = ()


class BreakTrace(Record):
    """A stretch in which the crew of a shift does not work."""

    starts_at: Instant
    ends_at: Instant


class OtherWorkTrace(Record):
    """A stretch in which the crew of a shift is at other work, and at which."""

    starts_at: Instant
    ends_at: Instant
    doing: str


class CoverTrace(Record):
    """Covers of one kind in use, stepwise."""

    kind: str
    stock_m2: float
    in_use: tuple["CoverUse", ...]


class CoverUse(Record):
    """Area under covers of a kind from an instant on."""

    at: Instant
    area_m2: float


class HeatBanTrace(Record):
    """A stretch in which nobody works, for the heat."""

    starts_at: Instant
    ends_at: Instant


class WeekHours(Record):
    """Hours of a gang in a calendar week, each of its people alike.

    Attributes
    ----------
    starts_on : date
        Its Monday.
    shift_min : int
        Of all its shifts less breaks, worked or idle, in the plan or beside it.
    call_out_min, call_out_paid_min : int
        From leaving home to the last end; and what is paid of it at the least.
    """

    crew_id: str
    starts_on: date
    people: int
    shift_min: int
    overtime_min: int
    call_outs: int
    call_out_min: int
    call_out_paid_min: int

    @property
    def worked_min(self) -> int:
        """Shifts, overtime and call-outs."""
        return self.shift_min + self.overtime_min + self.call_out_min

    @property
    def paid_min(self) -> int:
        """The same, each call-out for as long as is paid at the least."""
        return self.shift_min + self.overtime_min + self.call_out_paid_min


class Changes(Record):
    """What became of the visits of a published roster in a new one.

    A re-wetting at another time counts as one dropped and one added, since how many
    there are and when is each roster's own choice.
    """

    kept: int = 0
    moved: int = 0
    other_crew: int = 0
    added: int = 0
    dropped: int = 0

    @property
    def total(self) -> int:
        """Visits that somebody has to be told about."""
        return self.moved + self.other_crew + self.added + self.dropped


class AuditReport(Record):
    """Everything the audit counted.

    ``gaps`` are measured by the audit, and told with the reasons of the explainer.
    ``missed_task_ids`` are duties that nobody does, ``fallen_task_ids`` those that
    fall away with them. ``forecast_dry_min`` is set where
    the roster was played on the dry side of the forecast: the dry minutes that the
    forecast itself would bring.
    """

    findings: tuple[Finding, ...]
    gaps: tuple[Gap, ...]
    missed_task_ids: tuple[str, ...] = ()
    fallen_task_ids: tuple[str, ...] = ()
    surfaces: tuple[SurfaceTrace, ...]
    water: tuple[WaterTrace, ...]
    shifts: tuple[ShiftTrace, ...]
    week_hours: tuple[WeekHours, ...] = ()
    heat_bans: tuple[HeatBanTrace, ...] = ()
    covers: tuple[CoverTrace, ...]
    dry_min: int = Field(ge=0)
    forecast_dry_min: int | None = Field(None, ge=0)
    dry_shares: tuple[DryShare, ...] = ()
    amount_by_part: dict[str, float] = Field(default_factory=dict)
    cost_by_part: dict[str, float]

    @property
    def violations(self) -> tuple[Finding, ...]:
        """Findings that make the roster a bug."""
        return tuple(f for f in self.findings if f.kind in VIOLATIONS)


CoverTrace.model_rebuild()
