"""Ponding: burlap as a bridge, then water over it behind a bund."""

from datetime import timedelta

from models.quantities import show
from models.records import CoverStage, Pour, SiteInput, Surface
from scheduler.methods.case.figures import figures_for
from scheduler.methods.case.method_table import cover_of, methods
from scheduler.methods.case.protocol import Case, Chain, lies_by
from scheduler.methods.tasks.covering import covered_from_min, last_of
from scheduler.methods.tasks.hold_point import Kit, hold_point, soaked_name
from scheduler.methods.tasks.inspections import inspections_per_shift
from scheduler.methods.tasks.pond_water import LEVEL, build_bund, emptied, fill, top_ups
from scheduler.methods.tasks.removal import removal
from scheduler.methods.tasks.rewetting import rewet_pattern
from scheduler.methods.tasks.wet_laying import INSPECTION, REWET, lay_wet


def bridged(surface: Surface, pour: Pour, site_input: SiteInput) -> Surface:
    """Plan the pond for when the concrete has hardened under its bridging burlap."""
    pond = methods()[surface.method].then_cover
    if pond is None:
        return surface
    site = site_input.site
    after_h = figures_for(site.rates)[surface.method]["bridge"]
    near = next(zone for zone in site.zones if zone.id == surface.zone_id)
    point = next(p for p in site.water_points if p.id == near.water_points[0])
    water = {"laid_at_c": point.temperature_c}
    filled = CoverStage(
        method=surface.method,
        cover=cover_of(pond, site).model_copy(update=water),
        starts_at=pour.placing_ends_at + timedelta(hours=after_h),
        reason=f"hard enough for a pond {after_h:g} h after placing",
    )
    return surface.model_copy(update={"later": (filled,)})


class Ponding:
    """A bridge of wet burlap, then the pond: two stages of one method."""

    def chain(self, case: Case) -> Chain:
        """Give the stage asked for: the bridge, or the pond itself."""
        return _pond(case) if case.surface.cover.form == "pond" else _bridge(case)


def _bridge(case: Case) -> Chain:
    """Ask for the burlap that keeps the surface wet until it is hard enough."""
    laid, soaked = lay_wet(case)
    covered_min, lies = covered_from_min(case, laid), lies_by(case, laid)
    weight = pond_load(case, case.figures["load_per_50mm"])
    load = f"Shoring checked for {weight} of water, in writing."
    kit = Kit(
        things=f"{soaked_name(case, case.cover_name)}, sand for the bund",
        spares="pump, hose, sand",
        checks=(load,) if case.surface.element == "suspended_slab" else (),
    )
    return Chain(
        tasks=(
            *hold_point(case, kit, soaked),
            *laid,
            *soaked,
            *inspections_per_shift(case, covered_min, INSPECTION, lies),
            *removal(case, loosen_first=False, after=lies),
        ),
        covered_min=covered_min,
        rewet=rewet_pattern(case, covered_min, laid, "Re-wet burlap", REWET),
        laid=last_of(laid),
    )


def _pond(case: Case) -> Chain:
    """Ask for the bund, the filling over the burlap, top-ups and the draining."""
    bund = build_bund(case)
    filled = fill(case, bund)
    covered_min = covered_from_min(case, filled)
    return Chain(
        tasks=(
            *bund,
            *filled,
            *top_ups(case, covered_min, filled),
            *inspections_per_shift(case, covered_min, LEVEL, last_of(filled)),
            *emptied(case, last_of(filled)),
        ),
        covered_min=covered_min,
        laid=last_of(filled),
    )


def pond_load_kn_m2(depth_mm: float, per_50mm_kn_m2: float) -> float:
    """Load of a pond's water [kN/m²]."""
    return per_50mm_kn_m2 * depth_mm / 50


def pond_load(case: Case, per_50mm_kn_m2: float) -> str:
    """Say the load of the planned pond; a litre a square metre is a millimetre."""
    ponds = (c.held_l_m2 for c in case.surface.covers if c.form == "pond")
    depth_mm = next(ponds, case.surface.cover.held_l_m2)
    load_kn_m2 = pond_load_kn_m2(depth_mm, per_50mm_kn_m2)
    return show("load", load_kn_m2, case.units)
