"""Plain sections and weather for the heat tests."""

import numpy as np

from models.hydration.face import Climate, Layers, climate
from models.hydration.temperature import HeatSolver, Section
from models.hydration.temperature_history import Course

CONDUCTIVITY_W_MK, CAPACITY_J_M3K = 2.0, 2.4e6
SURFACE_HELD_W_M2K = 1e9  # so good a contact that the surface has the outside's warmth


def plain_section(depth_m: float, cells: int, far_w_m2k: float = 0.0) -> Section:
    """One section of equal cells of concrete."""
    shape = (cells, 1)
    return Section(
        size_m=np.full(shape, depth_m / cells),
        conductivity_w_mk=np.full(shape, CONDUCTIVITY_W_MK),
        capacity_j_m3k=np.full(shape, CAPACITY_J_M3K),
        concrete=np.full(shape, fill_value=True),
        middle_cell=np.array([cells - 1]),
        far_w_m2k=np.array([far_w_m2k]),
    )


def solver_at(section: Section, step_s: float, start_c: float) -> HeatSolver:
    """All of a section at one temperature."""
    return HeatSolver(section, step_s, np.full(section.size_m.shape, start_c))


def meet(solver: HeatSolver, film_w_m2k: float, outside_c: float) -> None:
    """Put a bare face in front of an outside."""
    surfaces = solver.temperature_c.shape[1]
    solver.set_face(
        np.zeros(surfaces),
        np.full(surfaces, film_w_m2k),
        np.full(surfaces, outside_c),
    )


def march(solver: HeatSolver, hours: float) -> None:
    """Step through so many hours."""
    for _ in range(round(hours * 3600 / solver.step_s)):
        solver.step()


def at_depth_c(solver: HeatSolver, depth_m: float) -> float:
    """Temperature of the first section at a depth, straight between cell centres."""
    depths = np.concatenate([[0.0], solver.section.centre_m[:, 0]])
    values = np.concatenate([solver.surface_c()[:1], solver.temperature_c[:, 0]])
    return float(np.interp(depth_m, depths, values))


def layers(
    surfaces: int, resistance: float, absorptivity: float, film: float, leak: float = 0
) -> Layers:
    """One kind of layer on every surface; an open wet face has a film without end."""
    figures = (resistance, absorptivity, 0.9, film, leak, 0, np.nan)
    return Layers(*(np.full(surfaces, x) for x in figures))


def steady_climate(
    refreshes: int,
    air_c: float = 18.0,
    humidity: float = 0.6,
    wind_m_s: float = 2.0,
    solar_w_m2: float = 0.0,
    sky_c: float = 8.0,
) -> Climate:
    """The same weather all the time."""
    columns = (air_c, humidity, wind_m_s, solar_w_m2, sky_c)
    return climate(*(np.full((refreshes, 1), x) for x in columns))


def course(surfaces: int = 1, **fields: object) -> Course:
    """Placed at step 0 at 20 °C, bare, never covered; change what the test is about."""
    never = np.full(surfaces, np.iinfo(np.int64).max)
    base: dict[str, object] = {
        "placed_step": np.zeros(surfaces, dtype=np.int64),
        "bare_step": np.zeros(surfaces, dtype=np.int64),
        "covered_step": never,
        "cover_at_h": np.full(surfaces, np.inf),
        "setting_energy_j_mol": np.full(surfaces, 40_000.0),
        "heat_energy_j_mol": np.full(surfaces, 40_000.0),
        "age_when_placed_h": np.full(surfaces, 0.75),
        "placing_temperature_c": np.full(surfaces, 20.0),
        "ground_temperature_c": 12.0,
        "stages": (
            layers(surfaces, 0.14, 0.7, 0.0),
            layers(surfaces, 0.0, 0.75, np.inf),
            layers(surfaces, 0.5, 0.6, np.inf),
        ),
        "measured": {},
    }
    return Course(**(base | fields))  # type: ignore[arg-type]  # names checked at run time
