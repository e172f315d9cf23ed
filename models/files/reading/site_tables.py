"""The words of ``site.toml``: which key becomes which field, in which units.

With ``row_tables.py`` the one place from which files are read, problems are worded and
JSON Schemas are written, so that the three cannot drift apart. Everything else about a
field (bounds, allowed words, default) stands in its record.
"""

from models.files.reading.columns import Column, Inner, Table
from models.records import (
    Busy,
    CompetingUse,
    Costs,
    CoverStock,
    Crew,
    Delivery,
    HeatBan,
    Mix,
    Party,
    Rules,
    ShiftPattern,
    Site,
    WaterPoint,
    Weather,
    Zone,
)

SITE = Table(
    "site",
    Site,
    (
        Column("name", "name"),
        Column("timezone", "timezone"),
        Column("latitude", "latitude_deg", "number"),
        Column("longitude", "longitude_deg", "number"),
        Column("elevation", "elevation_m", "length"),
        Column("units", "units"),
        Column("profile", "profile", refers="profile"),
        Column("week_start", "week_starts_at"),
        Column("days", "days"),
        Column("night_starts", "night_starts"),
        Column("night_ends", "night_ends"),
        Column("ground_temperature", "ground_temperature_c", "temperature"),
        Column("roughness", "roughness_mm", "thickness"),
        Column("wind_height", "wind_height_m", "length", of=Weather),
    ),
)

ZONE = Table(
    "zone",
    Zone,
    (
        Column("id", "id"),
        Column("name", "name"),
        Column("level", "level"),
        Column("height", "height_m", "length"),
        Column("grid", "grid"),
        Column("x", "x_m", "length"),
        Column("y", "y_m", "length"),
        Column("water_points", "water_points", refers="water"),
    ),
    unique="id",
)

SHIFT = Table(
    "shift",
    ShiftPattern,
    (
        Column("id", "id"),
        Column("days", "days"),
        Column("starts", "starts"),
        Column("ends", "ends"),
        Column("breaks", "breaks"),
        Column("break_stagger", "break_stagger_min", "duration in minutes"),
        Column("on_call", "on_call"),
    ),
    unique="id",
)

HEAT_BAN = Table(
    "heat_ban",
    HeatBan,
    (
        Column("starts", "starts"),
        Column("ends", "ends"),
        Column("from", "from_date"),
        Column("until", "until_date"),
        Column("above", "above_c", "temperature"),
    ),
)

BUSY = Table(
    "busy",
    Busy,
    (Column("from", "from_at"), Column("to", "until_at"), Column("why", "why")),
)

PARTY = Table(
    "party",
    Party,
    (
        Column("id", "id"),
        Column("name", "name"),
        Column("people", "people"),
        Column("skills", "skills"),
        Column("lead", "lead"),
        Column("phone", "phone"),
    ),
    inner=(Inner("busy", "busy", BUSY),),
    unique="id",
)

CREW = Table(
    "crew",
    Crew,
    (
        Column("id", "id"),
        Column("name", "name"),
        Column("people", "people"),
        Column("skills", "skills"),
        Column("home_zone", "home_zone", refers="zone"),
        Column("shifts", "shifts", refers="shift"),
        Column("overtime_max", "overtime_max_min", "duration in minutes"),
        Column("together", "together"),
        Column("lead", "lead"),
        Column("phone", "phone"),
    ),
    inner=(Inner("party", "parties", PARTY), Inner("busy", "busy", BUSY)),
    unique="id",
)

DELIVERY = Table(
    "delivery",
    Delivery,
    (
        Column("at", "at"),
        Column("litres", "litres_l", "volume"),
        Column("late_by", "late_by_h", "duration in hours"),
    ),
)

COMPETING = Table(
    "competing",
    CompetingUse,
    (
        Column("starts", "starts"),
        Column("ends", "ends"),
        Column("flow", "flow_l_min", "flow"),
    ),
)

WATER = Table(
    "water",
    WaterPoint,
    (
        Column("id", "id"),
        Column("name", "name"),
        Column("kind", "kind"),
        Column("x", "x_m", "length"),
        Column("y", "y_m", "length"),
        Column("reach", "reach_m", "length"),
        Column("flow", "flow_l_min", "flow"),
        Column("daily_allotment", "daily_allotment_l", "volume"),
        Column("capacity", "capacity_l", "volume"),
        Column("level", "level_l", "volume"),
        Column("refill", "refill_l_min", "flow"),
        Column("temperature", "temperature_c", "temperature"),
    ),
    inner=(
        Inner("delivery", "deliveries", DELIVERY),
        Inner("competing", "competing", COMPETING),
    ),
    unique="id",
)

COVER = Table(
    "cover",
    CoverStock,
    (
        Column("kind", "kind"),
        Column("stock", "stock_m2", "area"),
        Column("held", "held_l_m2", "water per area"),
        Column("laps", "laps"),
        Column("seam_loss", "seam_loss_l_m_d", "volume"),
        Column("soak_lead", "soak_lead_h", "duration in hours"),
        Column("turnaround", "turnaround_h", "duration in hours"),
        Column("lead_time", "lead_time_h", "duration in hours"),
    ),
    unique="kind",
)

MIX = Table(
    "mix",
    Mix,
    (
        Column("id", "id"),
        Column("title", "title"),
        Column("cement_class", "cement_class"),
        Column("initial_set", "initial_set_h", "duration in hours"),
        Column("final_set", "final_set_h", "duration in hours"),
        Column("activation_energy", "activation_energy_j_mol", "energy per amount"),
        Column(
            "heat_activation_energy",
            "heat_activation_energy_j_mol",
            "energy per amount",
        ),
        Column("strength", "strength_mpa", "pressure"),
        Column("strength_ratio", "strength_ratio_fraction", "share"),
        Column("aci_209", "aci_209"),
        Column(
            "strength_by_age",
            "strength_by_age_mpa",
            "duration in hours",
            second="pressure",
        ),
        Column(
            "strength_share_by_age",
            "strength_share_by_age_fraction",
            "duration in hours",
            second="share",
        ),
        Column("ultimate_strength", "ultimate_strength_mpa", "pressure"),
        Column("strength_rate", "strength_rate_per_h", "rate"),
        Column("strength_begins", "strength_begins_h", "duration in hours"),
        Column("cement", "cement_kg_m3", "mass per volume"),
        Column("water_cement", "water_cement_fraction", "share"),
        Column("slag", "slag_fraction", "share"),
        Column("fly_ash", "fly_ash_fraction", "share"),
        Column("silica_fume", "silica_fume_fraction", "share"),
        Column("scm", "scm_fraction", "share"),
        Column("ground_in", "ground_in"),
        Column("low_bleed", "low_bleed"),
        Column("heat", "heat_j_kg", "number"),  # [J/kg]
        Column("tau", "tau_h", "duration in hours"),
        Column("beta", "beta_fraction", "number"),
        Column("alpha_ultimate", "alpha_ultimate_fraction", "share"),
        Column(
            "adiabatic_rise",
            "adiabatic_rise_k",
            "duration in hours",
            second="temperature difference",
        ),
        Column("adiabatic_start", "adiabatic_start_c", "temperature"),
    ),
    unique="id",
)

RULES = Table(
    "rules",
    Rules,
    (
        Column("rewet_at_reserve", "rewet_at_reserve_fraction", "share"),
        Column("fog_from", "fog_from_kg_m2_h", "evaporation"),
        Column("rest", "rest_h", "duration in hours"),
        Column("day_hours_max", "day_hours_max_h", "duration in hours"),
        Column("week_hours_max", "week_hours_max_h", "duration in hours"),
        Column("call_out_max", "call_out_max_h", "duration in hours"),
        Column("break_after", "break_after_h", "duration in hours"),
        Column("break_length", "break_length_min", "duration in minutes"),
        Column("walking_speed", "walking_speed_m_s", "speed"),
        Column("level_change", "level_change_min", "duration in minutes"),
        Column("level_more", "level_more_min", "duration in minutes"),
        Column("move_in_zone", "move_in_zone_min", "duration in minutes"),
        Column("uncovered_grace", "uncovered_grace_min", "duration in minutes"),
        Column("weekend_cover", "weekend_cover"),
    ),
)

COSTS = Table(
    "costs",
    Costs,
    (
        Column("dry_minute", "dry_cost_per_min", "number"),
        Column("area_power", "area_power", "number"),
        Column("area_floor", "area_floor_factor", "number"),
        Column("young_24h_factor", "young_24h_factor", "number"),
        Column("young_72h_factor", "young_72h_factor", "number"),
        Column("uncovered_factor", "uncovered_factor", "number"),
        Column("low_water_factor", "low_water_factor", "number"),
        Column("late_minute", "late_cost_per_min", "number"),
        Column("missed_inspection", "missed_inspection", "number"),
        Column("missed_work", "missed_work", "number"),
        Column("overtime_minute", "overtime_cost_per_min", "number"),
        Column("call_out", "call_out", "number"),
        Column("call_out_hour", "call_out_hour", "number"),
        Column("call_out_min", "call_out_min_h", "duration in hours"),
        Column("travel_minute", "travel_cost_per_min", "number"),
        Column("worker_minute", "worker_minute_cost", "number"),
        Column("litre", "litre_cost", "number"),
        Column("change", "change_cost", "number"),
        Column("change_beyond", "change_beyond_min", "duration in minutes"),
    ),
)


#: Tables of ``site.toml`` that may stand many times, and the site's field for them.
LISTED: tuple[Inner, ...] = (
    Inner("zone", "zones", ZONE),
    Inner("shift", "shifts", SHIFT),
    Inner("heat_ban", "heat_bans", HEAT_BAN),
    Inner("crew", "crews", CREW),
    Inner("water", "water_points", WATER),
    Inner("cover", "covers", COVER),
    Inner("mix", "mixes", MIX),
)
#: Tables of ``site.toml`` that stand once at most.
SINGLE: tuple[Inner, ...] = (
    Inner("rules", "rules", RULES),
    Inner("costs", "costs", COSTS),
)
