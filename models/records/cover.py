"""Covers: what lies on the concrete, and how much of it the site owns."""

from typing import Literal

from pydantic import Field

from models.records.base import Record

CoverKind = Literal[
    "burlap_single",
    "burlap_double",
    "cotton_mats",
    "plastic_sheet",
    "sheet_over_burlap",
    "compound_clear",
    "compound_white",
    "plastic_sheet_clear",
    "plastic_sheet_black",
    "impervious_paper",
    "wet_sand",
    "pond",
    "insulated_blankets",
    "steam_enclosure",
]


#: Kinds with fabric that lies in water before it is laid.
SOAKED: frozenset[CoverKind] = frozenset(
    {"burlap_single", "burlap_double", "cotton_mats", "sheet_over_burlap"}
)


class CoverProperties(Record):
    """What a cover does to water and heat; defaults stand in ``drying/covers.toml``.

    Attributes
    ----------
    held_l_m2 : float
        Water held when soaked and drained. [L/m²]
    evaporation_factor : float
        Loss from under or out of the cover as a share of that of an open wet
        surface. [-]
    takes_rain : bool
        Rain reaches the held water.
    rewettable : bool
        A visit can fill it again; a compound cannot.
    resistance_m2k_w : float
        Thermal resistance when damp. [m² K/W]
    absorptivity_fraction : float
        Solar absorptivity of its outer face. [-]
    emissivity_fraction : float
        Long-wave emissivity of its outer face. [-]
    leak_mm_d : float
        Held water that runs off whatever the weather, as through the bunds of a
        pond. [mm/d]
    """

    kind: CoverKind
    title: str
    held_l_m2: float = Field(ge=0, le=200)
    evaporation_factor: float = Field(ge=0, le=1.2)
    takes_rain: bool
    rewettable: bool
    resistance_m2k_w: float = Field(ge=0, le=5)
    absorptivity_fraction: float = Field(ge=0, le=1)
    emissivity_fraction: float = Field(0.9, ge=0, le=1)
    leak_mm_d: float = Field(0, ge=0, le=100)


class CoverStock(Record):
    """Covers of one kind on the site, with the site's own figures where it has them.

    Attributes
    ----------
    soak_lead_h : float
        How long before it is laid fabric goes into water; it is nobody else's from
        then on. Of ``SOAKED`` kinds only. [h]
    turnaround_h : float
        From lifting until it can be had again: washed and moved. [h]
    """

    kind: CoverKind
    stock_m2: float = Field(ge=0, description="laid area it can cover [m²]")
    held_l_m2: float | None = Field(None, gt=0, le=200)
    soak_lead_h: float = Field(12, ge=0, le=72, description="soaked ahead [h]")
    turnaround_h: float = Field(4, ge=0, le=72, description="wash and move [h]")
    lead_time_h: float = Field(
        0, ge=0, le=1000, description="from order to site, 0 if unknown [h]"
    )

    @property
    def soak_lead_min(self) -> int:
        """Minutes for which it lies in water before it is laid; 0 if it never does."""
        return round(60 * self.soak_lead_h) if self.kind in SOAKED else 0

    @property
    def turnaround_min(self) -> int:
        """Minutes from lifting until it can be had again."""
        return round(60 * self.turnaround_h)
