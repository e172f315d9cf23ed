"""A curing-period rule with its limits, as data: how long, how warm, how checked."""

from typing import Literal

from pydantic import Field, ValidationInfo, field_validator, model_validator

from models.records.base import Record, require_none
from models.records.criterion import Criterion, DaysRow, Mark, Row
from models.records.rule_family import RuleFamily, RuleKind, kinds_allowed


class SlowRow(Row):
    """Cool time that counts for less: ``factor`` days of it stand for one."""

    at_or_above_c: float = Field(ge=-10, le=40)
    below_c: float = Field(ge=-10, le=40)
    factor: float = Field(gt=1, le=5)

    @model_validator(mode="after")
    def _in_order(self) -> "SlowRow":
        if self.below_c <= self.at_or_above_c:
            require_none([("below_c", "a temperature above at_or_above_c")])
        return self


class SectionRow(Mark):
    """Temperature limits of sections thinner than ``up_to_mm``; None for any.

    Attributes
    ----------
    minimum_c : float or None
        Of the concrete while it is protected in cold weather. [°C]
    cooling_max_k : float or None
        Most the surface may cool in 24 h, covered or after protection ends. [K]
    """

    up_to_mm: float | None = Field(None, gt=0)
    minimum_c: float | None = Field(None, ge=-5, le=30)
    cooling_max_k: float | None = Field(None, gt=0, le=60)


class PlacingRow(Row):
    """Least temperature of fresh concrete where the air or the mix asks for it.

    Attributes
    ----------
    minimum_c : float
        Of the concrete as it is placed. [°C]
    air_below_c : float or None
        Holds for colder air only. [°C]
    cement_below_kg_m3 : float or None
        Holds for leaner mixes only. [kg/m³]
    """

    minimum_c: float = Field(ge=0, le=30)
    air_below_c: float | None = Field(None, ge=-20, le=20)
    cement_below_kg_m3: float | None = Field(None, gt=0, le=500)


class FlowingWaterRow(Row):
    """How long flowing water is kept off. [d]."""

    days: float = Field(gt=0, le=60)


class Profile(Record):
    """One rule of a standard or an owner.

    Attributes
    ----------
    title, edition : str
        What is named on sheets and records.
    maturity : str
        Function of temperature by which the concrete ages.
    datum_c : float
        Of ``nurse_saul``. [°C]
    activation_energy_j_mol : float or None
        Of ``arrhenius``; None for that of the mix. [J/mol]
    ends : tuple of Criterion
        Of each kind the first row that fits the surface counts.
    combine : str
        Whether the first criterion reached ends curing, or all must be reached.
    strength_tested : bool
        The site shows strength by tests. Only then may a strength end curing before
        the days are over: the model proves nothing.
    minimum_h : float
        Curing never ends before this much credited time. [h]
    set_beyond_h : float or None
        Initial set later than this lengthens curing by the excess. [h]
    slow : tuple of SlowRow
        Cool time that counts for less; for criteria in days only.
    inspections_per_shift, inspections_per_non_working_day : int
        How often each surface is looked at.
    allowed_families : tuple of str
        Ways of curing that this rule names as the only ones; empty for all.
    banned_families : tuple of str
        Ways of curing that it does not allow.
    cover_within_min : int
        From the surface taking a cover until it must be on. [min]
    compound_within_min, compound_after_forms_min : int
        From the sheen going, and from striking, until a compound must be on. [min]
    water_colder_max_k : float or None
        Most the curing water may be colder than the concrete. [K]
    core_max_c : float or None
        Hottest that concrete may become inside. [°C]
    core_surface_max_k, core_surface_from_mm : float or None
        Most the core may be warmer than the surface, in members from this thickness
        on; None for all. [K, mm]
    cooling_hour_max_k : float or None
        Most the surface may cool in any one hour. [K]
    cold_below_c : float or None
        Air below this is cold weather: protect. [°C]
    protection_days : float or None
        How long in cold weather, for concrete that carries nothing yet. [d]
    freezing_strength_mpa : float or None
        Below this strength it must not freeze. [MPa]
    frost_days, frost_days_at_c : float or None
        After so long at this temperature or above it may freeze too. [d, °C]
    placing_max_c : float or None
        Most that fresh concrete may have as it is placed. [°C]
    placing : tuple of PlacingRow
        Least that it may have; of the rows that fit the highest counts.
    rain_off_h : float or None
        How long rain is kept off, from the end of placing. [h]
    flowing_water : tuple of FlowingWaterRow
        How long flowing water is kept off; the first row that fits counts.
    steam_max_c : float or None
        Hottest that live steam may hold. [°C]
    compound_before_water : bool
        Curing by water may follow a compound.
    sections : tuple of SectionRow
        Limits by thickness, thinnest first.
    marks : dict
        Field name -> how its figure came here.
    """

    id: str
    title: str
    edition: str
    maturity: Literal["nurse_saul", "arrhenius", "arrhenius_variable", "eurocode"]
    datum_c: float = Field(-10, ge=-20, le=10)
    activation_energy_j_mol: float | None = Field(None, ge=20_000, le=80_000)
    ends: tuple[Criterion, ...] = (
        DaysRow(days=7, at_or_above_c=10, how="common practice"),
    )
    combine: Literal["first", "all"] = "all"
    strength_tested: bool = False
    minimum_h: float = Field(0, ge=0, le=1000)
    set_beyond_h: float | None = Field(None, gt=0, le=48)
    slow: tuple[SlowRow, ...] = ()
    inspections_per_shift: int = Field(1, ge=0, le=4)
    inspections_per_non_working_day: int = Field(1, ge=0, le=4)
    allowed_families: tuple[RuleFamily, ...] = ()
    banned_families: tuple[RuleFamily, ...] = ()
    cover_within_min: int = Field(60, ge=0)
    compound_within_min: int = Field(30, ge=0)
    compound_after_forms_min: int = Field(120, ge=0)
    water_colder_max_k: float | None = Field(None, gt=0, le=40)
    core_max_c: float | None = Field(None, ge=40, le=90)
    core_surface_max_k: float | None = Field(None, gt=0, le=60)
    core_surface_from_mm: float | None = Field(None, gt=0, le=5000)
    cooling_hour_max_k: float | None = Field(None, gt=0, le=20)
    cold_below_c: float | None = Field(None, ge=-10, le=20)
    protection_days: float | None = Field(None, gt=0, le=60)
    freezing_strength_mpa: float | None = Field(None, gt=0, le=30)
    frost_days: float | None = Field(None, gt=0, le=30)
    frost_days_at_c: float | None = Field(None, ge=0, le=30)
    placing_max_c: float | None = Field(None, ge=20, le=50)
    placing: tuple[PlacingRow, ...] = ()
    rain_off_h: float | None = Field(None, gt=0, le=100)
    flowing_water: tuple[FlowingWaterRow, ...] = ()
    steam_max_c: float | None = Field(None, ge=30, le=70)
    compound_before_water: bool = True
    sections: tuple[SectionRow, ...] = ()
    marks: dict[str, Mark] = Field(default_factory=dict)

    @field_validator("ends")
    @classmethod
    def _some(cls, ends: tuple[Criterion, ...]) -> tuple[Criterion, ...]:
        if not ends:
            require_none([("ends", "at least one [[ends]]")])
        return ends

    @field_validator("banned_families")
    @classmethod
    def _something_left(
        cls, banned: tuple[RuleFamily, ...], info: ValidationInfo
    ) -> tuple[RuleFamily, ...]:
        if not kinds_allowed(info.data.get("allowed_families", ()), banned):
            wanted = "families that leave at least one way of curing allowed"
            require_none([("banned_families", wanted)])
        return banned

    def allows(self, kind: RuleKind) -> bool:
        """Tell whether a surface may be cured in a way of this kind."""
        return kind in kinds_allowed(self.allowed_families, self.banned_families)

    def said_by(self, field: str) -> str:
        """Clause that gives a figure, for people; the rule's title if none is noted."""
        mark = self.marks.get(field)
        return mark.clause if mark and mark.clause else self.title

    def section(self, thickness_mm: float) -> SectionRow | None:
        """Limits for a thickness: of the first row it is thinner than."""
        fitting = (
            row
            for row in self.sections
            if row.up_to_mm is None or thickness_mm < row.up_to_mm
        )
        return next(fitting, None)
