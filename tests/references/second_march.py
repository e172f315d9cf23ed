"""A second model of the whole march, to hold both clocks against.

Nothing of the program's is in it: explicit in time with steps of ten seconds, cells of
half a centimetre, weather that changes all the time, the face solved anew in every
step, and its own formulas in other units or by other authors where there are any. What
it shares is the physics that is written down: properties, films, covers, rates.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from math import exp, log, sqrt
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import brentq

Floats = NDArray[np.float64]
_Of = Callable[[float], float]

_GAS, _SIGMA = 8.314, 5.670374419e-8
_STEP_S = 10.0
#: How often what is compared is kept. [s]
KEPT_S = 600
_CONCRETE = (2.0, 2.4e6)  # W/(m K), J/(m³ K)
_GROUND = (1.5, 2.0e6)
_GROUND_DEPTH_M = 1.5
_FORM_AND_STILL_AIR = 0.018 / 0.13 + 1 / 8


class Weather(NamedTuple):
    """Values at the hour; sun and cloud hold for the hour after."""

    air_c: Sequence[float]
    humidity: Sequence[float]
    wind_10m_m_s: Sequence[float]
    solar_w_m2: Sequence[float]
    cloud: Sequence[float]


class Cover(NamedTuple):
    """A cover, and the setting age from which it lies there."""

    from_age_h: float
    resistance_m2k_w: float
    absorptivity: float
    emissivity: float
    #: Vapour through film and seams at a wind of v: 1 / (film + seams (v + 0.5)).
    film: float
    seams: float
    #: Of what takes time to grow warm: J/(m² K), and how warm it comes.
    capacity: float = 0
    laid_c: float = 0


@dataclass(frozen=True)
class Member:
    """What is poured; the binder is plain Portland cement of class N, w/c 0.5."""

    thickness_m: float
    on_ground: bool
    placed_c: float
    ground_c: float
    cement_kg_m3: float
    cover: Cover
    initial_set_h: float = 4.5
    final_set_h: float = 6.5
    energy_j_mol: float = 40_000.0


@dataclass
class March:
    """What came of it; every ten minutes from placing on, and events in hours."""

    surface_c: list[float] = field(default_factory=list)
    core_c: list[float] = field(default_factory=list)
    age_h: list[float] = field(default_factory=list)
    loss_kg_m2_h: list[float] = field(default_factory=list)
    strength: Floats = field(default_factory=lambda: np.zeros(0))
    reached_h: dict[float, float] = field(default_factory=dict)


def march(member: Member, weather: Weather, hours: int) -> March:
    """March a member from placing, at the first hour of the weather, for some hours."""
    return _Marching(member, weather, hours).run()


def _vapour_kpa(temperature_c: float) -> float:
    """Magnus' form by Alduchov and Eskridge (1996)."""
    return 0.61094 * exp(17.625 * temperature_c / (temperature_c + 243.04))


def _open_kg_m2_h_kpa(wind_m_s: float) -> float:
    """Menzel in his own units, made to read as the SI form does."""
    mph = wind_m_s / 0.44704
    return 0.44 * (0.253 + 0.096 * mph) * 4.882428 / 6.894757 * 1.011


def _rate(temperature_c: float, energy_j_mol: float, at_c: float) -> float:
    warm_k = max(temperature_c, 0.0) + 273.15
    frost = min(1.0, max(0.0, 1 + temperature_c / 10))
    return frost * exp(energy_j_mol / _GAS * (1 / (at_c + 273.15) - 1 / warm_k))


class _Marching:
    def __init__(self, member: Member, weather: Weather, hours: int) -> None:
        self.member, self.hours = member, hours
        self.loses_at_c: float | None = None
        steps = round(hours * 3600 / _STEP_S)
        at_h = (np.arange(steps) + 0.5) * _STEP_S / 3600
        whole = np.arange(len(weather.air_c))
        self.air_c, self.humidity, wind_10m = (
            np.interp(at_h, whole, values) for values in weather[:3]
        )
        # Log law, roughness 10 mm, from 10 m to half a metre.
        self.wind_m_s = wind_10m * log(0.5 / 0.01) / log(10 / 0.01)
        hour = at_h.astype(int)
        self.solar = np.asarray(weather.solar_w_m2, np.float64)[hour]
        self.sky_k4 = self._sky_k4(np.asarray(weather.cloud, np.float64)[hour])
        self.sizes, self.concrete = self._cells()
        self.conductivity, self.capacity = (
            np.where(self.concrete, of, ground)
            for of, ground in zip(_CONCRETE, _GROUND, strict=True)
        )
        mean_air_c = float(np.mean(self.air_c))
        depth = np.cumsum(self.sizes) - self.sizes / 2 - member.thickness_m
        ground_c = mean_air_c + (member.ground_c - mean_air_c) * depth / _GROUND_DEPTH_M
        self.cells_c = np.where(self.concrete, member.placed_c, ground_c)

    def _sky_k4(self, cloud: Floats) -> Floats:
        """Clark and Allen, with Walton's clouds."""
        held = np.array([_vapour_kpa(t) for t in self.air_c]) * self.humidity
        log_held = np.log(held / 0.61094)
        dew_k = 243.04 * log_held / (17.625 - log_held) + 273.15
        tenths = 10 * cloud
        shines = 0.787 + 0.764 * np.log(dew_k / 273)
        shines *= 1 + 0.0224 * tenths - 0.0035 * tenths**2 + 0.00028 * tenths**3
        return np.asarray(np.minimum(shines, 1) * (self.air_c + 273.15) ** 4)

    def _cells(self) -> tuple[Floats, NDArray[np.bool_]]:
        """Half a centimetre at the face and at the ground, up to three inside."""
        half: list[float] = []
        while sum(half) < self.member.thickness_m / 2:
            half.append(min(0.03, 0.005 * 1.08 ** len(half)))
        concrete = np.array([*half, *half[::-1]])
        concrete *= self.member.thickness_m / concrete.sum()
        ground: list[float] = []
        while self.member.on_ground and sum(ground) < _GROUND_DEPTH_M:
            ground.append(min(0.08, 0.01 * 1.1 ** len(ground)))
        below = np.array(ground) * (_GROUND_DEPTH_M / sum(ground) if ground else 1)
        return (
            np.concatenate([concrete, below]),
            np.arange(len(concrete) + len(ground)) < len(concrete),
        )

    def run(self) -> March:
        member, found = self.member, March()
        between = 1 / (
            self.sizes[:-1] / (2 * self.conductivity[:-1])
            + self.sizes[1:] / (2 * self.conductivity[1:])
        )
        stored = self.capacity * self.sizes
        first_m2k_w = self.sizes[0] / (2 * self.conductivity[0])
        last_m2k_w = self.sizes[-1] / (2 * self.conductivity[-1])
        far_w_m2k = 1 / (last_m2k_w + (0 if member.on_ground else _FORM_AND_STILL_AIR))
        made = int(self.concrete.sum())
        heat = self.sizes[:made] * 460_000.0 * member.cement_kg_m3
        ultimate = 1.031 * 0.5 / (0.194 + 0.5)
        energy = member.energy_j_mol

        bare = Cover(0, 0, 0.75, 0.9, np.inf, 0)
        lying, face_c = bare, member.placed_c
        paste_h, degree = np.zeros(made), np.zeros(made)
        set_age_h = 0.75 * _rate(member.placed_c, energy, 20)
        age_h, step_h = 0.0, _STEP_S / 3600
        marks = sorted(
            {0.7 * member.initial_set_h, member.final_set_h,
             (member.initial_set_h + member.final_set_h) / 2}
        )  # fmt: skip
        for step in range(len(self.air_c)):
            if lying is bare and set_age_h >= member.cover.from_age_h:
                lying = member.cover
                if lying.capacity:
                    face_c = self.loses_at_c = lying.laid_c
            cells = self.cells_c
            first_c = float(cells[0])
            face_c, inward = self._face(step, face_c, first_c, first_m2k_w, lying)
            surface_c = first_c + inward * first_m2k_w
            if step % round(KEPT_S / _STEP_S) == 0:
                found.surface_c.append(surface_c)
                found.core_c.append(float(cells[:made].max()))
                found.age_h.append(age_h)
                found.loss_kg_m2_h.append(self._loss(step, surface_c))
            self._warm(step, surface_c)
            flow = np.zeros(len(cells) + 1)
            flow[0] = inward
            flow[1:-1] = between * (cells[:-1] - cells[1:])
            outside_c = member.ground_c if member.on_ground else self.air_c[step]
            flow[-1] = far_w_m2k * (cells[-1] - outside_c)
            gained = flow[:-1] - flow[1:]
            kelvin = np.clip(cells[:made], -10, 80) + 273.15
            paste_h += step_h * np.exp(energy / _GAS * (1 / 294.25 - 1 / kelvin))
            grown = ultimate * np.exp(-((15.0 / paste_h) ** 0.8))
            self.cells_c = cells + gained * _STEP_S / stored
            self.cells_c[:made] += heat * (grown - degree) / stored[:made]
            degree = grown
            rate = _rate(surface_c, energy, 20)
            age_h += rate * step_h
            for mark in marks:
                if set_age_h < mark <= set_age_h + rate * step_h:
                    found.reached_h[mark] = (step + 1) * step_h
            set_age_h += rate * step_h
        found.strength = self._strength(np.array(found.age_h), found)
        return found

    def _face(
        self, step: int, face_c: float, cell_c: float, cell_m2k_w: float, lying: Cover
    ) -> tuple[float, float]:
        """Temperature of the outer face, and the heat that enters. [°C, W/m²]."""
        wind = float(self.wind_m_s[step])
        film = 5.6 + 4.0 * wind if wind <= 5 else 7.2 * wind**0.78
        behind = 1 / (cell_m2k_w + lying.resistance_m2k_w)
        held = _vapour_kpa(float(self.air_c[step])) * float(self.humidity[step])
        through = self._through(wind, lying) * 2.45e6 / 3600

        def gains(at_c: float) -> float:
            lost = max(0.0, _vapour_kpa(at_c) - held) * through
            return (
                lying.absorptivity * float(self.solar[step])
                + lying.emissivity
                * _SIGMA
                * (float(self.sky_k4[step]) - (at_c + 273.15) ** 4)
                + film * (float(self.air_c[step]) - at_c)
                - lost
                + behind * (cell_c - at_c)
            )

        if lying.capacity:
            inward = behind * (face_c - cell_c)
            return face_c + gains(face_c) * _STEP_S / lying.capacity, inward
        for _ in range(3):  # secant steps from where it was ten seconds ago
            here, beside = gains(face_c), gains(face_c + 0.01)
            face_c -= here * 0.01 / (beside - here)
        return face_c, behind * (face_c - cell_c)

    def _through(self, wind: float, lying: Cover) -> float:
        opening = _open_kg_m2_h_kpa(wind)
        if lying.film == np.inf:
            return opening
        return 1 / (1 / opening + 1 / (lying.film + lying.seams * (wind + 0.5)))

    def _loss(self, step: int, surface_c: float) -> float:
        """Water out of the member's cover, as if it lay there all the time."""
        gains, loses = self._wet_face(step, surface_c)
        if self.loses_at_c is not None:
            return loses(self.loses_at_c)
        return loses(float(brentq(gains, -60, 120)))

    def _warm(self, step: int, surface_c: float) -> None:
        """Let a pond that lies there take its heat."""
        if self.loses_at_c is not None:
            gains, _ = self._wet_face(step, surface_c)
            warmer_k = gains(self.loses_at_c) * _STEP_S / self.member.cover.capacity
            self.loses_at_c += warmer_k

    def _wet_face(self, step: int, surface_c: float) -> tuple[_Of, _Of]:
        """What the cover's face gains in heat, and loses in water, at a temperature."""
        lying, wind = self.member.cover, float(self.wind_m_s[step])
        air_c = float(self.air_c[step])
        latent_wh_kg = (2.501e6 - 2361 * air_c) / 3600
        held = _vapour_kpa(air_c) * float(self.humidity[step])
        psychrometer_kpa_k = 1.013 / (0.622 * 2450) * 101.3
        to_air = _open_kg_m2_h_kpa(wind) * latent_wh_kg * psychrometer_kpa_k
        through = self._through(wind, lying)

        def gains(at_c: float) -> float:
            return (
                lying.absorptivity * float(self.solar[step])
                + lying.emissivity
                * _SIGMA
                * (float(self.sky_k4[step]) - (at_c + 273.15) ** 4)
                + (surface_c - at_c) / max(lying.resistance_m2k_w, 0.001)
                + to_air * (air_c - at_c)
                - through * latent_wh_kg * (_vapour_kpa(at_c) - held)
            )

        return gains, lambda at_c: max(0.0, through * (_vapour_kpa(at_c) - held))

    def _strength(self, age_h: Floats, found: March) -> Floats:
        """Nothing before final set, with the gel until 72 h, then the Eurocode's."""
        sets_at_h = found.reached_h.get(self.member.final_set_h)
        if sets_at_h is None:
            return np.zeros(len(age_h))
        at_h = np.arange(len(age_h)) * KEPT_S / 3600
        set_h = float(np.interp(sets_at_h, at_h, age_h))
        printed_h = max(72.0, set_h + 24)
        tau_h = 15.0 / exp(self.member.energy_j_mol / _GAS * (1 / 294.25 - 1 / 293.15))

        def gel(age: float) -> float:
            alpha = 0.743 * exp(-((tau_h / age) ** 0.8))
            return float((0.68 * alpha / (0.32 * alpha + 0.5)) ** 2.6)

        def printed(age: float) -> float:
            return exp(0.25 * (1 - sqrt(28 * 24 / age)))

        def share(age: float) -> float:
            if age <= set_h:
                return 0.0
            if age >= printed_h:
                return printed(age)
            part = (gel(age) - gel(set_h)) / (gel(printed_h) - gel(set_h))
            return part * printed(printed_h)

        return np.array([share(float(age)) for age in age_h])
