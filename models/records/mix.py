"""Concrete mixes, as far as curing needs them."""

from collections.abc import Iterator
from itertools import pairwise
from typing import Annotated, Literal

from pydantic import Field, field_validator, model_validator

from models.quantities import TemperatureC
from models.records.base import Record, require_none

#: Table 2.2.1 of ACI 209R by cement type and curing.
Aci209 = Literal["I_moist", "III_moist", "I_steam", "III_steam"]
CementClass = Literal["R", "N", "S"]
_AgeH = Annotated[float, Field(ge=0, le=20_000)]
_StrengthMPa = Annotated[float, Field(ge=0, le=300)]
_StrengthFraction = Annotated[float, Field(ge=0, le=2)]
_RiseK = Annotated[float, Field(ge=0, le=100)]

_ROUNDING = 1e-9
#: Some Portland cement wakes the rest. [-]
MOST_ADDED_FRACTION = 0.95
#: Field -> key of the shares of the binder that have a name.
_NAMED = {
    "slag_fraction": "slag",
    "fly_ash_fraction": "fly_ash",
    "silica_fume_fraction": "silica_fume",
}
#: From these shares on slag and fly ash make a cement one class slower, above the
#: second two (read: Concrete Society, "Cement class in BS EN 1992-1-1", for class R;
#: that N turns S the same way is our reading).
_SLOWER_FROM = {"slag": (0.35, 0.65), "fly ash": (0.20, 0.35)}
_CLASSES: tuple[CementClass, ...] = ("R", "N", "S")
#: Field -> key in the file, of what begins a strength curve. [-]
_CURVES = {
    "aci_209": "aci_209",
    "strength_by_age_mpa": "strength_by_age",
    "strength_share_by_age_fraction": "strength_share_by_age",
    "ultimate_strength_mpa": "ultimate_strength",
}
#: Tables by age, each beginning with (0, 0).
_TABLES = ("strength_by_age_mpa", "strength_share_by_age_fraction", "adiabatic_rise_k")
#: Field -> key of the three-parameter curve of heat.
_HEAT = {
    "heat_j_kg": "heat",
    "tau_h": "tau",
    "beta_fraction": "beta",
    "alpha_ultimate_fraction": "alpha_ultimate",
}


class Mix(Record):
    """A mix; set times are those at 20 °C, from the supplier.

    Strength grows by the Eurocode's curve unless one of the curves below is given;
    ages are equivalent ages, by the function of the surface's profile.

    Attributes
    ----------
    cement_class : str
        Strength class of EN 197-1 as rapid (R), normal (N), slow (S). With shares
        named it is that of the Portland cement among them.
    initial_set_h, final_set_h : float or None
        From batching, at 20 °C, retarder or accelerator included; None for those of
        such a binder. [h]
    activation_energy_j_mol, heat_activation_energy_j_mol : float or None
        For setting and strength, and for the heat of hydration: two numbers, since
        tests find two. None for those of such a binder. [J/mol]
    strength_mpa : float
        Specified characteristic strength at 28 days. [MPa]
    strength_ratio_fraction : float or None
        Mean strength at 2 days over that at 28 days, where known. [-]
    aci_209 : str or None
        Cement type and curing whose curve of ACI 209R holds.
    strength_by_age_mpa, strength_share_by_age_fraction : tuple of pairs
        Age [h] and strength [MPa], or share of the 28-day strength [-], straight
        between; from (0, 0).
    ultimate_strength_mpa, strength_rate_per_h, strength_begins_h : float or None
        Hyperbola through the site's own cylinders: strength it tends to, rate, and
        age at which strength begins. [MPa, 1/h, h]
    cement_kg_m3 : float
        The whole binder: Portland cement and what is named below. [kg/m³]
    water_cement_fraction : float
        Water over the whole binder. [-]
    slag_fraction, fly_ash_fraction, silica_fume_fraction : float
        Shares of the binder, whether ground into the cement or added at the mixer:
        blast-furnace slag, fly ash poor in lime, silica fume. [-]
    scm_fraction : float
        Share of the binder that is no Portland cement, where not all of it is named;
        what is not named counts as slag, the slowest in the cold. [-]
    ground_in : bool
        Slag or pozzolan is ground into the cement at the works (IS, IP, CEM II to V),
        not added at the mixer.
    low_bleed : bool
        Silica fume, slip-form or very low water: bleeds little.
    heat_j_kg, tau_h, beta, alpha_ultimate_fraction : float or None
        Three-parameter hydration curve of Schindler and Folliard (2005), of the whole
        binder; each None for that of such a binder. [J/kg, h, -, -]
    adiabatic_rise_k : tuple of pairs
        Adiabatic test instead of that curve: time in the test [h] and temperature
        risen [K], from (0, 0).
    adiabatic_start_c : float or None
        Temperature at which that test began. [°C]
    """

    id: str
    title: str = ""
    cement_class: CementClass = "N"
    initial_set_h: float | None = Field(None, ge=0.1, le=48)
    final_set_h: float | None = Field(None, ge=0.1, le=72)
    activation_energy_j_mol: float | None = Field(None, ge=20_000, le=80_000)
    heat_activation_energy_j_mol: float | None = Field(None, ge=20_000, le=80_000)
    strength_mpa: float = Field(gt=5, le=150)
    strength_ratio_fraction: float | None = Field(None, gt=0.05, lt=0.95)
    aci_209: Aci209 | None = None
    strength_by_age_mpa: tuple[tuple[_AgeH, _StrengthMPa], ...] = ()
    strength_share_by_age_fraction: tuple[tuple[_AgeH, _StrengthFraction], ...] = ()
    ultimate_strength_mpa: float | None = Field(None, gt=0, le=300)
    strength_rate_per_h: float | None = Field(None, gt=0, le=10)
    strength_begins_h: float | None = Field(None, ge=0, le=240)
    cement_kg_m3: float = Field(gt=100, le=700)
    water_cement_fraction: float = Field(0.5, gt=0.2, le=1)
    slag_fraction: float = Field(0, ge=0, le=MOST_ADDED_FRACTION)
    fly_ash_fraction: float = Field(0, ge=0, le=MOST_ADDED_FRACTION)
    silica_fume_fraction: float = Field(0, ge=0, le=MOST_ADDED_FRACTION)
    scm_fraction: float = Field(0, ge=0, le=MOST_ADDED_FRACTION)
    ground_in: bool = False
    low_bleed: bool = False
    heat_j_kg: float | None = Field(None, gt=0, le=550_000)
    tau_h: float | None = Field(None, gt=1, le=200)
    beta_fraction: float | None = Field(None, gt=0.2, le=2)
    alpha_ultimate_fraction: float | None = Field(None, gt=0.2, le=1)
    adiabatic_rise_k: tuple[tuple[_AgeH, _RiseK], ...] = ()
    adiabatic_start_c: TemperatureC | None = None

    @field_validator(*_TABLES)
    @classmethod
    def _from_nothing(
        cls, pairs: tuple[tuple[float, float], ...]
    ) -> tuple[tuple[float, float], ...]:
        """Let a table begin with (0, 0), written or not."""
        return ((0.0, 0.0), *pairs) if pairs and pairs[0][0] > 0 else pairs

    @property
    def named_fraction(self) -> float:
        """Share of the binder that is slag, fly ash or silica fume by name [-]."""
        return self.slag_fraction + self.fly_ash_fraction + self.silica_fume_fraction

    @property
    def added_fraction(self) -> float:
        """Share of the binder that is no Portland cement, named or not [-]."""
        return max(self.named_fraction, self.scm_fraction)

    @property
    def as_slag_fraction(self) -> float:
        """Slag, and what has no name, which counts as slag [-]."""
        return self.slag_fraction + self.added_fraction - self.named_fraction

    @property
    def hardens_as(self) -> CementClass:
        """Class of the whole binder: slag and fly ash make it slower."""
        shares = {"slag": self.as_slag_fraction, "fly ash": self.fly_ash_fraction}
        slower = max(
            (share >= first) + (share > second)
            for share, (first, second) in (
                (shares[name], limits) for name, limits in _SLOWER_FROM.items()
            )
        )
        return _CLASSES[min(_CLASSES.index(self.cement_class) + slower, 2)]

    @model_validator(mode="after")
    def _fits_together(self) -> "Mix":
        broken = (
            *self._broken_shares(), *self._broken_tables(), *self._broken_curves()
        )  # fmt: skip
        require_none(broken)
        return self

    def _broken_shares(self) -> Iterator[tuple[str, str]]:
        """Shares are of one binder."""
        given = [field for field in _NAMED if getattr(self, field)]
        names = " and ".join(_NAMED[field] for field in given)
        total = self.named_fraction
        if total > MOST_ADDED_FRACTION + _ROUNDING:
            most = f"at most {100 * MOST_ADDED_FRACTION:.0f} %"
            yield given[0], f"{names} of {most} together, not {100 * total:.0f} %"
        elif 0 < self.scm_fraction < total - _ROUNDING:
            yield "scm_fraction", f"at least {100 * total:.0f} %, as it counts {names}"

    def _broken_tables(self) -> Iterator[tuple[str, str]]:
        """Tables begin at nothing and rise."""
        for field in _TABLES:
            pairs = getattr(self, field)
            steps = pairwise(pairs)
            falls = next(
                (f"{b[1]:g} at {b[0]:g} h after {a[1]:g} at {a[0]:g} h"
                 for a, b in steps if b[0] <= a[0] or b[1] < a[1]),
                None,
            )  # fmt: skip
            if falls:
                yield field, f"ages that rise and values that never fall, not {falls}"
            elif pairs and (pairs[0][1] != 0 or pairs[-1][1] == 0):
                yield field, "values that begin with 0 at age 0 and rise above it"

    def _broken_curves(self) -> Iterator[tuple[str, str]]:
        """One curve of strength and one of heat, each with all its constants."""
        curves = [field for field in _CURVES if getattr(self, field)]
        if len(curves) > 1:
            first, second = (_CURVES[field] for field in curves[:2])
            yield curves[0], f"either {first} or {second}, not both"
        ultimate = self.ultimate_strength_mpa is not None
        if ultimate and self.strength_rate_per_h is None:
            yield "strength_rate_per_h", "a rate, as ultimate_strength is given"
        for field, key in (
            ("strength_rate_per_h", "strength_rate"),
            ("strength_begins_h", "strength_begins"),
        ):
            if getattr(self, field) is not None and not ultimate:
                wanted = f"the strength it tends to, as {key} is given"
                yield "ultimate_strength_mpa", wanted
                break
        if self.adiabatic_rise_k and self.adiabatic_start_c is None:
            wanted = "the temperature at the start, as adiabatic_rise is given"
            yield "adiabatic_start_c", wanted
        if self.adiabatic_start_c is not None and not self.adiabatic_rise_k:
            yield "adiabatic_rise_k", "the rise by age, as adiabatic_start is given"
        for field, key in _HEAT.items():
            if self.adiabatic_rise_k and field in self.model_fields_set:
                yield field, f"either {key} or adiabatic_rise, not both"
