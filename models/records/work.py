"""The work list: everything the solver is told, in whole minutes from the horizon.

The solver knows tasks, crews, water and how fast covers dry; it knows no concrete.
Minutes may be negative for what began before the horizon.
"""

from math import inf
from typing import Literal

from pydantic import Field, model_validator

from models.quantities import Units
from models.records.base import Record
from models.records.cover import CoverKind
from models.records.crew import Skill
from models.records.horizon import Horizon
from models.records.site import Costs
from models.records.task_kinds import TASK_KINDS, KindFacts, TaskKind

Age = Literal["first 24 h", "24 to 72 h", "later"]
Effect = Literal["none", "protect", "wet", "seal"]
#: Of what leaving a duty out costs, as much lateness may cost: somebody who is idle
#: still does it. [-]
LATE_MOST = 0.95


class WaterNeed(Record):
    """Litres that a task draws, evenly, in a part of its duration."""

    litres_l: float = Field(gt=0)
    from_min: int = Field(0, ge=0, description="minutes after the task starts")
    until_min: int = Field(gt=0, description="minutes after the task starts")

    @property
    def flow_l_min(self) -> float:
        """Even flow while drawing, in L/min."""
        return self.litres_l / (self.until_min - self.from_min)


class Material(Record):
    """Something to bring, and how much of it; no amount where the name says it all."""

    name: str
    area_m2: float | None = Field(None, gt=0)
    volume_l: float | None = Field(None, ge=0)
    length_m: float | None = Field(None, gt=0)


class Link(Record):
    """A task follows another one of the same surface.

    Starting later than ``max_gap_min`` after its end is late; starting sooner than
    ``min_gap_min`` is forbidden. If the other is not done, this one cannot be. With
    ``from_start`` both are counted from the start of the other one.
    """

    task_id: str
    from_start: bool = False
    min_gap_min: int = Field(0, ge=0)
    max_gap_min: int | None = None


class Task(Record):
    """One piece of work on one surface.

    Attributes
    ----------
    part, parts : int
        Which part of how many of a job that is too long for one visit.
    earliest_min, due_min, latest_min : int
        May not start before; ending after it is late, by the minute; ending after
        ``latest_min`` is forbidden (the task is then missed).
    missed_cost : float
        Price of leaving it out; 0 where only dryness prices it.
    late_cost_per_min : float
        Price of each minute it ends after ``due_min``; in all no more than
        ``late_cost_most``.
    effect : Effect
        ``protect``: surface counts as wet while it lasts. ``wet``: from its middle on
        (``half_done_min``), and the cover is full at its end. ``seal``: the same, and
        the surface is safe from its end to the end of curing.
    covers : bool
        With it the surface's cover is on; rewets may follow.
    share_fraction : float
        Share of a fresh surface that it keeps wet; shares of visits add up. [-]
    strip : bool
        A strip of a first cover: its share stays wet from the middle of the visit on,
        not only while that lasts.
    job : str
        Tasks of a surface with the same word here may be done beside each other; all
        others one at a time.
    met_by_wetting : bool
        Not missed where a visit that wets the surface starts from its earliest minute
        on and before its latest: whoever wets a cover feels it first.
    tools, cautions, steps, log_fields : tuple of str
        Words for people: what to bring, what to mind, how to do it, what to write
        down.
    """

    id: str
    surface_id: str
    kind: TaskKind
    title: str
    part: int = Field(1, ge=1)
    parts: int = Field(1, ge=1)
    earliest_min: int
    due_min: int
    latest_min: int
    duration_min: int = Field(gt=0)
    people: int = Field(ge=1)
    skills: tuple[Skill, ...] = ("labourer",)
    effect: Effect = "none"
    covers: bool = False
    share_fraction: float = Field(1, gt=0, le=1)
    strip: bool = False
    job: str = ""
    met_by_wetting: bool = False
    water: WaterNeed | None = None
    after: tuple[Link, ...] = ()
    missed_cost: float = Field(0, ge=0)
    late_cost_per_min: float = Field(0, ge=0)
    materials: tuple[Material, ...] = ()
    tools: tuple[str, ...] = ()
    steps: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    log_fields: tuple[str, ...] = ()

    @property
    def full_title(self) -> str:
        """Its title, and which part it is of a job in parts, or which strip."""
        word = "strip" if self.job else "part"
        of = f", {word} {self.part} of {self.parts}" if self.parts > 1 else ""
        return f"{self.title}{of}"

    @property
    def facts(self) -> KindFacts:
        """What is said of its kind of work."""
        return TASK_KINDS[self.kind]

    @property
    def protects(self) -> bool:
        """Whether the surface counts as wet while it lasts."""
        return self.effect != "none"

    @property
    def half_done_min(self) -> int:
        """Minutes after its start from which it keeps the surface wet.

        Who wets, lays or sprays reaches it little by little: half of it by the middle,
        so the minutes before that count as dry and those after it as wet. Who fogs or
        watches keeps all of it wet from the start.
        """
        little_by_little = self.strip or self.effect in ("wet", "seal")
        return self.duration_min // 2 if little_by_little else 0

    @property
    def refills(self) -> bool:
        """Whether the cover is full at its end."""
        return self.effect == "wet"

    @property
    def seals(self) -> bool:
        """Whether the surface is safe from its end to the end of curing."""
        return self.effect == "seal"

    @property
    def late_cost_most(self) -> float:
        """Most that its lateness costs: less than leaving it out, if that costs."""
        return LATE_MOST * self.missed_cost if self.missed_cost > 0 else inf

    @property
    def worker_min(self) -> int:
        """Minutes of all people on it together."""
        return self.people * self.duration_min


class DryingCurve(Record):
    """How a surface's cover loses water.

    ``loss_l_m2_h[i]`` holds from minute ``i × step_min`` to the next step; the list
    reaches at least to the end of the horizon. A cover full at minute *t* is dry at
    the first minute *m* at which the sum of loss from *t* to *m* reaches ``held_l_m2``;
    negative loss (rain) fills it, never above ``held_l_m2``.
    """

    step_min: int = Field(gt=0)
    loss_l_m2_h: tuple[float, ...]
    held_l_m2: float = Field(gt=0)


class WeightStep(Record):
    """From a minute on, what one dry minute of a surface costs, and how old it is."""

    from_min: int
    per_min: float = Field(ge=0)
    age: Age = "later"


class Stretch(Record):
    """From a minute of the horizon up to, not including, another."""

    from_min: int
    until_min: int


class BusyStretch(Stretch):
    """A stretch in which a crew is at other work, as people say it: ``placing P3``."""

    doing: str


class AutomaticFlow(Record):
    """Water that a system on a timer draws for a surface, whoever looks at it."""

    water_point_id: str
    from_min: int
    until_min: int
    flow_l_min: float = Field(gt=0)


class CoverNeed(Record):
    """Covers of one kind that a surface has from the site's stock for a time.

    They are its own from the start of ``soaked_by``, or of laying where they come wet
    from other surfaces, until ``turnaround_min`` after they are lifted; over the whole
    area at once, however many parts laying and lifting have.

    Attributes
    ----------
    lies_from_min : int or None
        They lie there already, from this minute on; None if ``laid_by`` lays them.
    laid_by : str or None
        Task with whose start laying begins.
    soak_lead_min : int
        So long they lie in water before they are laid, unless they come wet; 0 for what
        is laid dry.
    soaked_by : str or None
        Task that puts them into water; None where they are taken ``soak_lead_min``
        before laying without a visit.
    in_water_until_min : int
        Laid before this minute they were put into water before the horizon: nobody
        comes to work early enough in it.
    checked_by : str or None
        Hold point that looks at them: after ``soaked_by``, if that is over in time.
    lifted_by : tuple of str
        Tasks that lift them: off with the end of the last, once all are done. Empty
        where nothing within the horizon does.
    """

    kind: CoverKind
    area_m2: float = Field(gt=0)
    lies_from_min: int | None = None
    laid_by: str | None = None
    soak_lead_min: int = Field(0, ge=0)
    soaked_by: str | None = None
    in_water_until_min: int = 0
    checked_by: str | None = None
    lifted_by: tuple[str, ...] = ()
    turnaround_min: int = Field(0, ge=0)

    @model_validator(mode="after")
    def _begins_once(self) -> "CoverNeed":
        if (self.lies_from_min is None) == (self.laid_by is None):
            raise ValueError("either lies_from_min or laid_by")
        if self.soaked_by is not None and not self.soak_lead_min:
            raise ValueError("soaked_by only with a soak_lead_min")
        return self


class SurfaceWork(Record):
    """A surface as the solver sees it.

    Attributes
    ----------
    fresh : tuple of Stretch
        While no cover is on, the surface dries in these stretches unless a
        ``protect`` task runs. They end when the cover goes on.
    covered_from_min : int or None
        Already under its cover from this minute (reported); None if a task covers it.
    reserve_at_start_l_m2 : float
        What the cover holds at minute 0, if it is already on. Where covers follow one
        another this, like the curve, is the share of what the one in place holds,
        counted in litres of the first that holds any (``Surface.held_l_m2``). [L/m²]
    curve : DryingCurve or None
        None where nothing dries out that a visit could wet (compound).
    rewet : Task or None
        Pattern of a rewet: how many and when is the solver's decision. Its window is
        the whole stretch in which rewets make sense.
    ends_min : int
        End of curing; dryness after it does not count. May lie beyond the horizon.
    weights : tuple of WeightStep
        Cost of a dry minute under the cover, rising in ``from_min``.
    fresh_weights : tuple of WeightStep
        The same while no cover is on.
    automatic : tuple of AutomaticFlow
        Draws of a system on a timer, in order of time; they are in ``taken`` of the
        supplies too.
    cover_needs : tuple of CoverNeed
        Its covers, one after the other, of the kinds whose stock is known.
    """

    surface_id: str
    label: str
    zone_id: str
    area_m2: float = Field(gt=0)
    fresh: tuple[Stretch, ...] = ()
    covered_from_min: int | None = None
    reserve_at_start_l_m2: float = 0
    curve: DryingCurve | None
    tasks: tuple[Task, ...]
    rewet: Task | None
    ends_min: int
    weights: tuple[WeightStep, ...] = Field(min_length=1)
    fresh_weights: tuple[WeightStep, ...] = Field(min_length=1)
    automatic: tuple[AutomaticFlow, ...] = ()
    cover_needs: tuple[CoverNeed, ...] = ()


class CrewShift(Record):
    """A gang, or a party of one, on one shift or on call for one stretch.

    A call-out costs ``call_out_cost`` once if any task lies in it, and
    ``call_out_per_min`` for each minute of it beyond ``call_out_paid_min``, from the
    walk to the first job to the end of the last; 0 for a shift.
    Work may run ``overtime_max_min`` past ``ends_min``. Nobody works in breaks, nor
    while ``busy`` elsewhere.

    Attributes
    ----------
    crew_id : str
        The gang or the party.
    hands : tuple of str
        Whose hands these are: two shifts that share one do one job at a time between
        them. The ids of a gang's parties, or a party's own; none stands for
        ``crew_id``.
    part_of : str
        Of a party's shift the id of its gang's; its overtime is the gang's, paid once.
    """

    id: str
    crew_id: str
    crew_name: str = ""
    hands: tuple[str, ...] = ()
    part_of: str = ""
    kind: Literal["shift", "on_call"]
    people: int
    skills: tuple[Skill, ...]
    home_zone: str
    starts_min: int
    ends_min: int
    overtime_max_min: int = 0
    breaks: tuple[Stretch, ...] = ()
    busy: tuple[BusyStretch, ...] = ()
    call_out_cost: float = 0
    call_out_paid_min: int = 0
    call_out_per_min: float = 0

    @property
    def pauses(self) -> tuple[Stretch, ...]:
        """Breaks and other work, in which it cures nothing."""
        return (*self.breaks, *self.busy)


class HoursLimit(Record):
    """The most hours of a gang or a party, and what its shifts take of them.

    Counted on top of ``regular_min`` are overtime, and call-outs from the walk to the
    first job to the end of the last, breaks in them too. A shift counts whole in the
    week, or on the day, that it begins in.

    Attributes
    ----------
    kind : str
        Of a calendar week, of a day, or of one call-out.
    crew_id : str
        A party, or a gang without any.
    starts_min : int
        Midnight, of a week that of Monday, before the horizon where that begins later;
        of a call-out the first minute on call.
    shift_ids : tuple of str
        Shifts and stretches on call that meet the horizon; those of a party's gang
        stand for its part in them.
    regular_min : int
        Of all its shifts less breaks, worked or idle.
    """

    kind: Literal["week", "day", "call_out"]
    crew_id: str
    starts_min: int
    shift_ids: tuple[str, ...]
    regular_min: int
    most_min: int

    @property
    def left_min(self) -> int:
        """Minutes that it leaves for overtime and call-outs."""
        return max(0, self.most_min - self.regular_min)


class TankDelivery(Record):
    """Litres that arrive in a tank at a minute."""

    at_min: int
    litres_l: float


class WaterSupply(Record):
    """A water point over the horizon.

    ``flow_l_min`` is what is left for curing in each stretch of ``taken``, less
    that stretch's flow; in ``closed`` nothing flows. ``days`` are the local days over
    which the allotment counts.
    """

    id: str
    name: str = ""
    flow_l_min: float
    taken: tuple["TakenFlow", ...] = ()
    closed: tuple[Stretch, ...] = ()
    daily_allotment_l: float | None = None
    days: tuple[Stretch, ...] = ()
    capacity_l: float | None = None
    level_at_start_l: float = 0
    refill_l_min: float = 0
    deliveries: tuple[TankDelivery, ...] = ()


class CoverSupply(Record):
    """Covers of one kind that the site owns; other kinds are not limited.

    For ``stays_wet_min`` after it is lifted fabric may be laid again without soaking.
    """

    kind: CoverKind
    title: str = ""
    stock_m2: float = Field(ge=0)
    stays_wet_min: int = Field(0, ge=0)


class TakenFlow(Record):
    """Flow that others take in a stretch; it empties the tank too."""

    from_min: int
    until_min: int
    flow_l_min: float


class PublishedVisit(Record):
    """A visit that a crew has been told of."""

    task_id: str
    crew_id: str
    shift_id: str
    start_min: int
    water_point_id: str | None = None


class Published(Record):
    """The roster that people hold, as far as it lies within this horizon.

    Attributes
    ----------
    from_min, until_min : int
        Stretch that both rosters plan; visits start in it.
    cost : float
        Of that roster, without the price of what it changed itself.
    """

    from_min: int
    until_min: int
    visits: tuple[PublishedVisit, ...]
    cost: float


class WorkList(Record):
    """All work of a site's week.

    Attributes
    ----------
    zone_ids : tuple of str
        Order of the rows and columns of ``travel_min``.
    travel_min : tuple of tuple of int
        Walking between zones; the diagonal is the move to the next surface in a
        zone. A shift starts in the crew's home zone.
    walks_on_surface : bool
        Two jobs of a crew on the same surface need no walk; true asks for the zone's
        own walk between them too, as some studies count.
    lateness_capped : bool
        Lateness of a duty costs less than leaving it out; false where a study counts on
        without end.
    water_points : dict
        Zone id to the ids of the supplies it can reach, nearest first.
    heat_bans : tuple of Stretch
        Nobody works in them; in order, without overlap.
    rest_min : int
        Between a crew's last job in one shift or call-out and its first in the next.
    hours_limits : tuple of HoursLimit
        Of weeks, days and call-outs, as far as they limit anything.
    rewet_at_reserve_fraction : float
        Share of ``held_l_m2`` at or below which a cover has little water left.
    units : Units
        In which the roster's words give amounts.
    published : Published or None
        A roster to stay near.
    begun_until_min : int
        What starts before this minute has begun already: nothing else may.
    begun : tuple of PublishedVisit
        All that has, as it happened, whatever rules it broke; it stays as it is.
    """

    site_name: str
    timezone: str
    horizon: Horizon
    surfaces: tuple[SurfaceWork, ...]
    shifts: tuple[CrewShift, ...]
    supplies: tuple[WaterSupply, ...]
    covers: tuple[CoverSupply, ...] = ()
    zone_ids: tuple[str, ...]
    travel_min: tuple[tuple[int, ...], ...]
    walks_on_surface: bool = False
    lateness_capped: bool = True
    water_points: dict[str, tuple[str, ...]]
    costs: Costs
    heat_bans: tuple[Stretch, ...] = ()
    rest_min: int
    hours_limits: tuple[HoursLimit, ...] = ()
    rewet_at_reserve_fraction: float
    units: Units = "si"
    published: Published | None = None
    begun_until_min: int = 0
    begun: tuple[PublishedVisit, ...] = ()


WaterSupply.model_rebuild()
