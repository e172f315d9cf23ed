"""Heat of a surface's concrete corrected by what was measured in it.

How long its hydration takes, how much heat it releases in the end and how warmth spurs
it on are moved, together and no further than the readings ask, from what its binder
makes them. An adiabatic test of the mix stands as it is.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import timedelta
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from models.hydration.course import course_of, section_of, step_from
from models.hydration.face import Climate
from models.hydration.heat import DegreeOfHydration
from models.hydration.least_squares import fit
from models.hydration.mix_figures import heat_figures, of_each
from models.hydration.temperature_history import temperatures
from models.records import (
    Floats,
    Grid,
    HeatFit,
    HeatParameters,
    Mix,
    Reading,
    Surface,
)

#: Fewer readings, or all within so short a time, do not tell the figures apart.
LEAST_READINGS, LEAST_SPAN = 6, timedelta(hours=12)
#: A thermocouple and one dimension of flow, weather as forecast (assumption). [K]
_READING_SPREAD_K = 1.0
#: How far cements of a class lie apart (assumption): time and heat by the logarithm.
_SPREADS = np.array([0.35, 0.10, 4_000.0])
#: What is possible at all: the quickest cement and the slowest blend; heat from half of
#: a low-heat cement's (220 J/g, from memory) to that of the hottest hydrated to nine
#: tenths (500 J/g, read); activation energies of the sources (from memory).
_LOW = HeatParameters(tau_h=3, heat_j_kg=110_000, energy_j_mol=25_000)
_HIGH = HeatParameters(tau_h=150, heat_j_kg=450_000, energy_j_mol=65_000)


class _Problem(NamedTuple):
    """One surface with enough readings, and its figures as its binder makes them."""

    column: int
    surface: Surface
    mix: Mix
    readings: list[Reading]
    prior: tuple[float, float, float]


def fit_heat(
    surfaces: Sequence[Surface],
    mixes: Sequence[Mix],
    readings: Mapping[str, Sequence[Reading]],
    grid: Grid,
    weather: Climate,
    refresh_steps: int,
    ground_temperature_c: float,
) -> dict[int, HeatFit]:
    """Fit the heat of each surface that has enough readings.

    Parameters
    ----------
    surfaces, mixes : sequence
        In the order of the columns of ``weather``.
    readings : mapping
        Surface id -> its readings.
    grid : Grid
        Steps of the march.
    weather : Climate
        One row for each refresh.
    refresh_steps : int
        Steps from one refresh to the next.
    ground_temperature_c : float
        Of the ground at depth. [°C]

    Returns
    -------
    dict
        Index of the surface -> its fit.
    """
    problems = list(_problems(surfaces, mixes, readings, grid))
    if not problems:
        return {}
    priors = np.array([problem.prior for problem in problems])
    steps = 1 + max(step_from(grid, r.at) for p in problems for r in p.readings)
    short = replace(grid, steps=steps)

    def misses(moves: Floats, numbers: NDArray[np.int64]) -> list[Floats]:
        figures = _moved(priors[numbers], moves)
        asked = [problems[number] for number in numbers]
        own, own_mixes = [p.surface for p in asked], [p.mix for p in asked]
        march = temperatures(
            section_of(own),
            _curve(figures, own_mixes),
            replace(
                course_of(own, own_mixes, {}, short, ground_temperature_c),
                heat_energy_j_mol=figures[:, 2],
            ),
            _columns(weather, [p.column for p in asked]),
            steps,
            grid.step_min,
            refresh_steps,
        )
        places = {"surface": march.surface_c, "core": march.middle_c}
        return [
            np.array(
                [
                    places[r.place][step_from(grid, r.at), column] - r.temperature_c
                    for r in problem.readings
                ]
            )
            / _READING_SPREAD_K
            for column, problem in enumerate(asked)
        ]

    # A site's own figure may lie beyond a bound: then it stays where it is.
    low = np.minimum(_moves_to(priors, _LOW), 0.0)
    high = np.maximum(_moves_to(priors, _HIGH), 0.0)
    found = fit(misses, low, high)
    fitted = _moved(priors, found.moves)
    return {
        problem.column: HeatFit(
            surface_id=problem.surface.id,
            readings=len(problem.readings),
            first_at=min(r.at for r in problem.readings),
            last_at=max(r.at for r in problem.readings),
            prior=_parameters(priors[i]),
            fitted=_parameters(fitted[i]),
            miss_before_k=_rms_k(found.before[i]),
            miss_after_k=_rms_k(found.after[i]),
            at_bound=tuple(
                name
                for j, name in enumerate(HeatParameters.model_fields)
                if found.moves[i, j] in (low[i, j], high[i, j])
            ),
        )
        for i, problem in enumerate(problems)
    }


def _curve(figures: Floats, mixes: Sequence[Mix]) -> DegreeOfHydration:
    """Hydration curves of these figures; the slope is the binder's."""
    tau_h, heat_j_kg, _ = figures.T
    return DegreeOfHydration(
        total_j_m3=heat_j_kg * np.array([mix.cement_kg_m3 for mix in mixes]),
        tau_h=tau_h,
        beta=np.array([each.beta for each in of_each(mixes, heat_figures)]),
        ultimate_fraction=np.ones(len(mixes)),
    )


def with_fits(
    curve: DegreeOfHydration, mixes: Sequence[Mix], fits: Mapping[int, HeatFit]
) -> DegreeOfHydration:
    """Put fitted figures in the place of a binder's."""
    total, tau = curve.total_j_m3.copy(), curve.tau_h.copy()
    ultimate = curve.ultimate_fraction.copy()
    for column, found in fits.items():
        total[column] = found.fitted.heat_j_kg * mixes[column].cement_kg_m3
        tau[column], ultimate[column] = found.fitted.tau_h, 1.0
    return replace(curve, total_j_m3=total, tau_h=tau, ultimate_fraction=ultimate)


def _problems(
    surfaces: Sequence[Surface],
    mixes: Sequence[Mix],
    readings: Mapping[str, Sequence[Reading]],
    grid: Grid,
) -> Iterator[_Problem]:
    """Yield the surfaces with enough readings after placing, within the grid."""
    for column, (surface, mix) in enumerate(zip(surfaces, mixes, strict=True)):
        placed = max(step_from(grid, surface.placing_ends_at), 0)
        own = [
            r
            for r in readings.get(surface.id, ())
            if placed < step_from(grid, r.at) < grid.steps
        ]
        if len(own) < LEAST_READINGS or mix.adiabatic_rise_k:
            continue
        if max(r.at for r in own) - min(r.at for r in own) < LEAST_SPAN:
            continue
        usual = heat_figures(mix)
        in_the_end_j_kg = usual.heat_j_kg * usual.ultimate_fraction
        prior = (usual.tau_h, in_the_end_j_kg, usual.energy_j_mol)
        yield _Problem(column, surface, mix, own, prior)


def _moved(priors: Floats, moves: Floats) -> Floats:
    """Figures that lie so many prior spreads from their priors."""
    by = moves * _SPREADS
    return np.stack(
        [
            priors[:, 0] * np.exp(by[:, 0]),
            priors[:, 1] * np.exp(by[:, 1]),
            priors[:, 2] + by[:, 2],
        ],
        axis=1,
    )


def _moves_to(priors: Floats, bound: HeatParameters) -> Floats:
    """Give the moves that would lead to a bound."""
    by = [
        np.log(bound.tau_h / priors[:, 0]),
        np.log(bound.heat_j_kg / priors[:, 1]),
        bound.energy_j_mol - priors[:, 2],
    ]
    return np.asarray(np.stack(by, axis=1) / _SPREADS)


def _parameters(figures: Floats) -> HeatParameters:
    tau_h, heat_j_kg, energy_j_mol = map(float, figures)
    return HeatParameters(tau_h=tau_h, heat_j_kg=heat_j_kg, energy_j_mol=energy_j_mol)


def _columns(weather: Climate, columns: list[int]) -> Climate:
    """Weather of some surfaces; what is common to all stays so."""
    return Climate(*(part if part.shape[1] == 1 else part[:, columns]
                     for part in weather))  # fmt: skip


def _rms_k(misses: Floats) -> float:
    return float(np.sqrt((misses**2).mean())) * _READING_SPREAD_K
