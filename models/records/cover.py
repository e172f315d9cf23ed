"""Covers: what lies on the concrete, and how much of it the site owns."""

from typing import Literal

from pydantic import Field, model_validator

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


#: What a cover is made of: ``fabric`` or a ``sheet`` that is laid, ``loose`` stuff that
#: is spread, a ``film`` that is sprayed, a ``pond`` on what lies there already,
#: ``blankets`` in layers, an ``enclosure`` around it.
CoverForm = Literal["fabric", "loose", "sheet", "film", "pond", "blankets", "enclosure"]


class CoverProperties(Record):
    """What a cover is and what it does to water and heat, from ``drying/covers.toml``.

    Attributes
    ----------
    title : str
        Its full name, as "Wet burlap, two layers".
    name : str
        The one or two words a gang uses, as "burlap".
    outer : str
        Of a sheet: what the wind gets hold of, in a word.
    soaked : bool
        It has fabric that lies in water before it is laid.
    layers : int
        How many of its fabric lie on one another.
    spread : str
        How ``loose`` stuff is spread, as a step of the work.
    held_l_m2 : float
        Water held when soaked and drained. [L/m²]
    film_kg_m2_h_kpa : float or None
        Vapour that passes the cover itself; None where its wet face is open to the
        air. [kg/(m² h kPa)]
    seam_loss_l_m_d : float
        Lost in a day by a metre of its edges and laps, in the air of
        ``drying/film.py``; 0 for what has none. [L/(m d)]
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
    capacity_kj_m2k : float
        Heat that warms it by a kelvin; 0 for what follows within minutes. [kJ/(m² K)]
    laid_at_c : float or None
        How warm it is when laid or filled, None where as the concrete is. [°C]
    leak_mm_d : float
        Held water that runs off whatever the weather, as through the bunds of a
        pond. [mm/d]
    loss_factor : float
        What it loses here, rain apart, over what the formulas say: learned from finds.
    """

    kind: CoverKind
    title: str = Field(min_length=1)
    name: str = Field(min_length=1)
    form: CoverForm
    outer: str = ""
    soaked: bool = False
    layers: int = Field(1, ge=1, le=4)
    spread: str = ""
    held_l_m2: float = Field(ge=0, le=200)
    film_kg_m2_h_kpa: float | None = Field(None, ge=0, le=0.1)
    seam_loss_l_m_d: float = Field(0, ge=0, le=10)
    takes_rain: bool
    rewettable: bool
    resistance_m2k_w: float = Field(ge=0, le=5)
    absorptivity_fraction: float = Field(ge=0, le=1)
    emissivity_fraction: float = Field(0.9, ge=0, le=1)
    capacity_kj_m2k: float = Field(0, ge=0, le=2000)
    laid_at_c: float | None = Field(None, ge=0, le=40)
    leak_mm_d: float = Field(0, ge=0, le=100)
    loss_factor: float = Field(1, gt=0, le=10)

    @model_validator(mode="after")
    def _words_of_its_form(self) -> "CoverProperties":
        if (self.form == "sheet") != bool(self.outer):
            raise ValueError("outer for a sheet, and for nothing else")
        if (self.form == "loose") != bool(self.spread):
            raise ValueError("spread for loose stuff, and for nothing else")
        return self


#: How the edges and laps of sheets are kept shut.
Laps = Literal["taped", "lapped", "loose"]


class CoverStock(Record):
    """Covers of one kind on the site, with the site's own figures where it has them.

    Attributes
    ----------
    laps : str or None
        Of what has seams: taped all round; lapped and weighted; loose. None for
        lapped.
    seam_loss_l_m_d : float or None
        The site's own figure in their place. [L/(m d)]
    soak_lead_h : float
        How long before it is laid fabric goes into water; it is nobody else's from
        then on. Of kinds that are ``soaked`` only. [h]
    turnaround_h : float
        From lifting until it can be had again: washed and moved. [h]
    """

    kind: CoverKind
    stock_m2: float = Field(ge=0, description="laid area it can cover [m²]")
    held_l_m2: float | None = Field(None, gt=0, le=200)
    laps: Laps | None = Field(None, description="of a sheet: its edges and laps")
    seam_loss_l_m_d: float | None = Field(
        None,
        ge=0,
        le=10,
        description="of a sheet: lost by a metre of edge in a day, wind 2 m/s, air "
        "1 kPa short of saturation [L]",
    )
    soak_lead_h: float = Field(12, ge=0, le=72, description="soaked ahead [h]")
    turnaround_h: float = Field(4, ge=0, le=72, description="wash and move [h]")
    lead_time_h: float = Field(
        0, ge=0, le=1000, description="from order to site, 0 if unknown [h]"
    )

    @property
    def turnaround_min(self) -> int:
        """Minutes from lifting until it can be had again."""
        return round(60 * self.turnaround_h)
