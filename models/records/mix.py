"""Concrete mixes, as far as curing needs them."""

from typing import Literal

from pydantic import Field

from models.records.base import Record


class Mix(Record):
    """A mix; set times are those at 20 °C, from the supplier.

    Attributes
    ----------
    cement_class : str
        Strength class of EN 197-1 as rapid (R), normal (N), slow (S).
    initial_set_h, final_set_h : float
        From batching, at 20 °C, retarder or accelerator included. [h]
    activation_energy_j_mol : float
        For setting and hydration heat. [J/mol]
    strength_mpa : float
        Specified characteristic strength at 28 days. [MPa]
    strength_ratio_fraction : float or None
        Mean strength at 2 days over that at 28 days, where known. [-]
    scm_fraction : float
        Supplementary cementitious share of the binder. [-]
    low_bleed : bool
        Silica fume, slip-form or very low water: bleeds little.
    heat_j_kg, tau_h, beta, alpha_ultimate_fraction
        Three-parameter hydration curve of Schindler and Folliard (2005).
    """

    id: str
    title: str = ""
    cement_class: Literal["R", "N", "S"] = "N"
    initial_set_h: float = Field(4.5, gt=0, le=48)
    final_set_h: float = Field(6.5, gt=0, le=72)
    activation_energy_j_mol: float = Field(40_000, ge=20_000, le=80_000)
    strength_mpa: float = Field(gt=5, le=150)
    strength_ratio_fraction: float | None = Field(None, gt=0.05, lt=0.95)
    cement_kg_m3: float = Field(gt=100, le=700)
    water_cement_fraction: float = Field(0.5, gt=0.2, le=1)
    scm_fraction: float = Field(0, ge=0, le=0.95)
    low_bleed: bool = False
    heat_j_kg: float = Field(460_000, gt=0, le=700_000)
    tau_h: float = Field(15, gt=1, le=200)
    beta_fraction: float = Field(0.8, gt=0.2, le=2)
    alpha_ultimate_fraction: float = Field(0.75, gt=0.2, le=1)
