"""What happens to each surface, from records into the arrays of the heat solver."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from typing import Literal

import numpy as np

from models.drying.cover_stages import film_of, leak_of
from models.hydration.face import Layers
from models.hydration.heat import (
    AdiabaticTable,
    DegreeOfHydration,
    HeatCurve,
    MeasuredHeat,
)
from models.hydration.mix_figures import (
    energy_j_mol,
    heat_figures,
    of_each,
    set_times_h,
)
from models.hydration.section import (
    CONCRETE_CAPACITY_J_M3K,
    FORM_RESISTANCE_M2K_W,
    Shape,
    sections,
)
from models.hydration.setting import (
    Ages,
    age_when_placed_h,
    bears_people_ages,
    set_ages,
    sheen_gone_ages,
    takes_cover_ages,
)
from models.hydration.temperature import Section
from models.hydration.temperature_history import Course, Measured, Steps
from models.records import (
    EventName,
    Grid,
    Mix,
    Reading,
    Surface,
)

#: Grey concrete, wet (from memory: 0.70 to 0.85) and its emissivity (0.88 to 0.93).
WET_ABSORPTIVITY_FRACTION, CONCRETE_EMISSIVITY_FRACTION = 0.75, 0.9
#: Weathered plywood (assumption).
FORM_ABSORPTIVITY_FRACTION, FORM_EMISSIVITY_FRACTION = 0.7, 0.9
#: Least thickness of a massive member (from memory: DAfStb guideline on massive
#: members of concrete).
MASSIVE_FROM_MM = 800.0
_ON_GROUND = {"slab_on_ground", "pavement", "footing"}
_ON_FORMS = {"suspended_slab", "deck", "beam"}


def shape_of(surface: Surface) -> Shape:
    """Tell how heat flows behind a surface.

    Formed faces lose heat like their opposite: it flows from the middle. So does the
    top of a wall or column, whose heat has no longer way to the sides (assumption).
    Behind the edge of a thin slab it is as behind a face (assumption: it is warmer in
    truth); behind that of a raft, or of any massive member on ground, the heat stays as
    it does under the top, for the way to the other side is long and the ground below
    takes little (assumption). Forms under slabs stay on all the time.
    """
    if surface.face == "top" and surface.element in _ON_GROUND:
        return "on_ground"
    if surface.face == "top" and surface.element in _ON_FORMS:
        return "on_forms"
    massive = surface.thickness_mm >= MASSIVE_FROM_MM
    return "insulated" if massive and surface.element in _ON_GROUND else "to_middle"


def section_of(surfaces: Sequence[Surface]) -> Section:
    """Cut the section of each surface into cells."""
    thickness_m = np.array([s.thickness_mm for s in surfaces]) / 1000
    return sections([shape_of(s) for s in surfaces], thickness_m)


def curve_of(mixes: Sequence[Mix]) -> DegreeOfHydration:
    """Hydration curve of each surface's mix."""
    figures = of_each(mixes, heat_figures)
    return DegreeOfHydration(
        total_j_m3=np.array(
            [f.heat_j_kg * m.cement_kg_m3 for f, m in zip(figures, mixes, strict=True)]
        ),
        tau_h=np.array([f.tau_h for f in figures]),
        beta=np.array([f.beta for f in figures]),
        ultimate_fraction=np.array([f.ultimate_fraction for f in figures]),
    )


def heat_of(mixes: Sequence[Mix], curve: DegreeOfHydration) -> HeatCurve:
    """Heat of hydration of each surface: by the test of its mix, else by its curve."""
    tested: dict[str, list[int]] = {}
    for column, mix in enumerate(mixes):
        if mix.adiabatic_rise_k:
            tested.setdefault(mix.id, []).append(column)
    if not tested:
        return curve
    return MeasuredHeat(
        curve,
        tuple((columns, _table_of(mixes[columns[0]])) for columns in tested.values()),
    )


def _table_of(mix: Mix) -> AdiabaticTable:
    """Adiabatic test of a mix, as heat of the concrete of the sections."""
    time_h, rise_k = np.array(mix.adiabatic_rise_k).T
    return AdiabaticTable.of_test(
        time_h,
        rise_k,
        mix.adiabatic_start_c or 0.0,
        heat_figures(mix).energy_j_mol,
        CONCRETE_CAPACITY_J_M3K,
    )


AgeName = EventName | Literal["initial_set", "final_set"]


def event_ages(mixes: Sequence[Mix]) -> dict[AgeName, Ages]:
    """Give the setting ages of the sets and events of each surface."""
    initial_h, final_h = np.array(of_each(mixes, set_times_h)).T
    return {
        "sheen_gone": sheen_gone_ages(initial_h),
        "takes_cover": takes_cover_ages(initial_h, final_h),
        "bears_people": bears_people_ages(final_h),
        "initial_set": set_ages(initial_h),
        "final_set": set_ages(final_h),
    }


def step_from(grid: Grid, at: datetime) -> int:
    """First step that begins at an instant or after it."""
    minutes = (at - grid.starts_at).total_seconds() / 60
    return int(-(-minutes // grid.step_min))


def course_of(
    surfaces: Sequence[Surface],
    mixes: Sequence[Mix],
    readings: Mapping[str, Sequence[Reading]],
    grid: Grid,
    ground_temperature_c: float,
) -> Course:
    """Say what happens to the surfaces.

    Edges and faces are in forms until exposed and get their cover then; tops get theirs
    when it was reported, at once, or when their setting age allows it. Later covers
    come when they are planned.
    """
    energy = np.array(of_each(mixes, energy_j_mol))
    placing_c = np.array([s.placing_temperature_c for s in surfaces])
    ages = event_ages(mixes)
    placed = np.array([step_from(grid, s.placing_ends_at) for s in surfaces])
    bare, covered = placed.copy(), np.full(placed.shape, np.iinfo(np.int64).max)
    cover_at_h = np.full(placed.shape, np.inf)
    for i, surface in enumerate(surfaces):
        if surface.face != "top":
            bare[i] = step_from(grid, surface.exposed_at)
            covered[i] = bare[i]
        if surface.covered_at is not None:
            covered[i] = max(step_from(grid, surface.covered_at), bare[i])
        elif surface.at_once:
            covered[i] = bare[i]
        elif surface.face == "top":
            cover_at_h[i] = ages[surface.cover_from].expected_h[i]
    return Course(
        placed_step=placed,
        bare_step=bare,
        covered_step=covered,
        cover_at_h=cover_at_h,
        setting_energy_j_mol=energy,
        heat_energy_j_mol=np.array(
            [figures.energy_j_mol for figures in of_each(mixes, heat_figures)]
        ),
        age_when_placed_h=age_when_placed_h(placing_c, energy),
        placing_temperature_c=placing_c,
        ground_temperature_c=ground_temperature_c,
        stages=_stages(surfaces),
        measured=_measured(surfaces, readings, grid),
        later_steps=_later_steps(surfaces, grid),
    )


#: What a cured face still gives off in its first days bare: some times what passes a
#: curing compound (assumption). [kg/(m² h kPa)]
_CURED_FILM_KG_M2_H_KPA = 0.01
#: Grey concrete, dry (from memory: 0.6 to 0.65).
_DRY_ABSORPTIVITY_FRACTION = 0.65


def bared(course: Course, off_step: Steps) -> Course:
    """Lift all covers of the surfaces at a step: cured faces, bare from then on."""
    figures = (
        0.0,
        _DRY_ABSORPTIVITY_FRACTION,
        CONCRETE_EMISSIVITY_FRACTION,
        _CURED_FILM_KG_M2_H_KPA,
        0.0,
        0.0,
        np.nan,
    )
    bare = Layers(*(np.full(off_step.shape, figure) for figure in figures))
    return replace(
        course,
        stages=(*course.stages, bare),
        later_steps=(*course.later_steps, off_step),
    )


def _later_steps(surfaces: Sequence[Surface], grid: Grid) -> tuple[Steps, ...]:
    """First step of each later cover; a surface without one never gets there."""
    most = max((len(surface.later) for surface in surfaces), default=0)
    steps = np.full((most, len(surfaces)), np.iinfo(np.int64).max)
    for column, surface in enumerate(surfaces):
        for index, stage in enumerate(surface.later):
            steps[index, column] = step_from(grid, stage.starts_at)
    return tuple(steps)


def _stages(surfaces: Sequence[Surface]) -> tuple[Layers, ...]:
    """Layers in forms, bare, covered, and under each of the later covers."""

    def alike(*figures: float) -> Layers:
        return Layers(*(np.full(len(surfaces), figure) for figure in figures))

    def of(stage: int) -> Layers:
        covers = [s.covers[min(stage, len(s.later))] for s in surfaces]
        return Layers(
            np.array([c.resistance_m2k_w for c in covers]),
            np.array([c.absorptivity_fraction for c in covers]),
            np.array([c.emissivity_fraction for c in covers]),
            np.array([film_of(c) for c in covers]),
            np.array(
                [leak_of(c, s.area_m2) for c, s in zip(covers, surfaces, strict=True)]
            ),
            np.array([1000 * c.capacity_kj_m2k for c in covers]),
            np.array([np.nan if c.laid_at_c is None else c.laid_at_c for c in covers]),
        )

    most = max((len(surface.covers) for surface in surfaces), default=1)
    return (
        alike(
            FORM_RESISTANCE_M2K_W,
            FORM_ABSORPTIVITY_FRACTION,
            FORM_EMISSIVITY_FRACTION,
            0.0,
            0.0,
            0.0,
            np.nan,
        ),
        alike(
            0.0,
            WET_ABSORPTIVITY_FRACTION,
            CONCRETE_EMISSIVITY_FRACTION,
            np.inf,
            0.0,
            0.0,
            np.nan,
        ),
        *(of(stage) for stage in range(most)),
    )


def _measured(
    surfaces: Sequence[Surface], readings: Mapping[str, Sequence[Reading]], grid: Grid
) -> dict[int, list[Measured]]:
    """Sort readings by step; of several in a step the last counts."""
    found: dict[int, list[Measured]] = {}
    for i, surface in enumerate(surfaces):
        by_step: dict[int, dict[str, float]] = {}
        for reading in sorted(readings.get(surface.id, ()), key=lambda r: r.at):
            values = by_step.setdefault(step_from(grid, reading.at), {})
            values[reading.place] = reading.temperature_c
        for step, values in by_step.items():
            found.setdefault(step, []).append(
                Measured(i, values.get("surface"), values.get("core"))
            )
    return found
