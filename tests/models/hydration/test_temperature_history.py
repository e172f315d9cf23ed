from dataclasses import replace

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from models.drying.ranges import Floats
from models.hydration.face import climate
from models.hydration.heat import AdiabaticTable, DegreeOfHydration, HeatCurve
from models.hydration.section import Shape, sections
from models.hydration.temperature import Section
from models.hydration.temperature_history import (
    Course,
    Measured,
    Temperatures,
    temperatures,
)
from tests.models.hydration.heat_builders import (
    CAPACITY_J_M3K,
    CONDUCTIVITY_W_MK,
    course,
    layers,
    steady_climate,
)

CEMENT_HEAT_J_M3 = 350 * 460_000.0
REFRESH = 6  # an hour


def heat(surfaces: int = 1, total_j_m3: float = CEMENT_HEAT_J_M3) -> DegreeOfHydration:
    return DegreeOfHydration(
        *(np.full(surfaces, x) for x in (total_j_m3, 14.0, 0.9, 0.72))
    )


def slab(
    surfaces: int = 1, shape: Shape = "on_ground", thick_m: float = 0.25
) -> Section:
    return sections([shape] * surfaces, np.full(surfaces, thick_m))


def go(of: Course, hours: int = 48, curve: HeatCurve | None = None,
       **weather: float) -> Temperatures:  # fmt: skip
    surfaces = of.placed_step.size
    return temperatures(
        slab(surfaces), curve or heat(surfaces), of, steady_climate(hours, **weather),
        hours * 6, 10, REFRESH,
    )  # fmt: skip


def sealed() -> Course:
    """No heat in or out."""
    closed = layers(1, 1e12, 0.0, 0.0)
    return course(stages=(closed, closed, closed))


def adiabatic_c(curve: HeatCurve, hours: int) -> Floats:
    return temperatures(
        slab(shape="insulated"),
        curve,
        sealed(),
        steady_climate(hours),
        hours * 6,
        10,
        6,
    ).mean_c[:, 0]


def test_sealed_concrete_follows_its_adiabatic_equation() -> None:
    found = adiabatic_c(heat(), 73)

    # dT/dt = H dα/dt / ρc, the age running with exp(E/R (1/294.25 - 1/T)).
    def slope(_: float, state: Floats) -> list[float]:
        age_h, warm_c = max(float(state[0]), 1e-3), float(state[1])
        rate = np.exp(40_000 / 8.314 * (1 / 294.25 - 1 / (warm_c + 273.15)))
        alpha = 0.72 * np.exp(-((14 / age_h) ** 0.9))
        growth = alpha * 0.9 * (14 / age_h) ** 0.9 / age_h
        return [rate, CEMENT_HEAT_J_M3 / CAPACITY_J_M3K * growth * rate]

    times = [12.0, 24.0, 48.0, 72.0]
    exact = solve_ivp(slope, (0, 72), [0.0, 20.0], t_eval=times, rtol=1e-8).y[1]
    np.testing.assert_allclose(found[[72, 144, 288, 432]], exact, atol=0.3)


def test_sealed_concrete_releases_no_more_than_its_heat() -> None:
    # 350 × 460 kJ/kg × 0.72 / 2400 kJ/(m³ K) = 48.3 K over the 20 °C of placing.
    end_c = adiabatic_c(heat(), 500)[-1]
    assert 20 + 47.0 < end_c < 20 + 48.3


def test_sealed_concrete_rises_by_its_measured_table() -> None:
    table = AdiabaticTable(
        np.array([0.0, 10.0, 40.0]), np.array([0.0, 0.0, 30.0]), CAPACITY_J_M3K
    )
    found = adiabatic_c(table, 200)
    assert found[-1] == pytest.approx(50.0, abs=1e-6)


def test_bare_slab_agrees_with_the_method_of_lines() -> None:
    # Sun, wind, sky, evaporation and hydration on one side of 0.3 m; nothing linear.
    hours = np.arange(30)
    day = np.sin(2 * np.pi * (hours - 9) / 24)
    air_c, humidity = 18 + 7 * day, 0.55 - 0.2 * day
    solar = 700 * np.maximum(0, np.sin(np.pi * (hours % 24 - 5) / 14))
    wind, sky_c = 2.5 + day, 6 + 5 * day
    section = slab(shape="insulated", thick_m=0.3)
    ours = temperatures(
        section, heat(), course(),
        climate(*(x[:, None] for x in (air_c, humidity, wind, solar, sky_c))),
        30 * 6, 10, REFRESH,
    )  # fmt: skip

    cells, size = 60, 0.3 / 60
    half_w_m2k = 2 * CONDUCTIVITY_W_MK / size

    def tetens_kpa(c: float) -> float:
        return float(0.6108 * np.exp(17.27 * c / (c + 237.3)))

    def into_surface(surface_c: float, hour: int) -> float:
        vapour = tetens_kpa(surface_c) - humidity[hour] * tetens_kpa(air_c[hour])
        water = 0.315 * (0.253 + 0.060 * 3.6 * wind[hour]) * max(vapour, 0)  # kg/(m² h)
        sky = (sky_c[hour] + 273.15) ** 4 - (surface_c + 273.15) ** 4
        return float(
            (5.6 + 4.0 * wind[hour]) * (air_c[hour] - surface_c)
            + 0.75 * solar[hour]
            + 0.9 * 5.67e-8 * sky
            - water / 3600 * 2.45e6
        )

    def surface_of(first_c: float, hour: int) -> float:
        return float(
            brentq(
                lambda c: into_surface(c, hour) + half_w_m2k * (first_c - c), -40, 80
            )
        )

    def slope(time_s: float, state: Floats) -> Floats:
        ages, warm = np.maximum(state[:cells], 1e-3), state[cells:]
        hour = min(int(time_s // 3600), 29)
        rate = np.exp(40_000 / 8.314 * (1 / 294.25 - 1 / (warm + 273.15)))
        power = (14 / ages) ** 0.9
        source = CEMENT_HEAT_J_M3 * 0.72 * np.exp(-power) * 0.9 * power / ages * rate
        between = CONDUCTIVITY_W_MK / size * (warm[:-1] - warm[1:])
        enters = half_w_m2k * (surface_of(warm[0], hour) - warm[0])
        flow = np.concatenate([[enters], between, [0.0]])
        heated = (flow[:-1] - flow[1:]) / size + source / 3600
        return np.concatenate([rate / 3600, heated / CAPACITY_J_M3K])

    state = np.concatenate([np.zeros(cells), np.full(cells, 20.0)])
    for hour in range(30):
        begin = hour * 3600.0
        if hour:
            surface = surface_of(state[cells], hour - 1)
            assert ours.surface_c[hour * 6, 0] == pytest.approx(
                surface, abs=0.7 if hour > 2 else 2.0
            )
            assert ours.mean_c[hour * 6, 0] == pytest.approx(
                state[cells:].mean(), abs=0.4
            )
        # The last instant of an hour still belongs to its weather.
        state = solve_ivp(
            slope, (begin, begin + 3599.999), state, method="LSODA", rtol=1e-5,
            atol=1e-4, t_eval=[begin + 3599.999],
        ).y[:, -1]  # fmt: skip


def test_slab_peaks_some_kelvin_above_still_air_in_its_first_day() -> None:
    found = go(course())
    peak = int(np.argmax(found.core_c[:, 0]))
    assert 8 <= peak / 6 <= 20
    assert 5 <= found.core_c[peak, 0] - 18 <= 20


def test_nothing_is_known_before_placing_and_everything_after() -> None:
    placed = np.array([0, 6, 45, 400])
    found = go(course(4, placed_step=placed, bare_step=placed))
    for history in (found.surface_c, found.core_c, found.mean_c):
        known = ~np.isnan(history)
        steps = np.arange(48 * 6)[:, None]
        np.testing.assert_array_equal(known, steps >= placed)


def test_concrete_begins_as_warm_as_it_was_placed() -> None:
    placed = np.array([0, 9, 14])
    placing_c = np.array([12.0, 20.0, 31.0])
    found = go(course(3, placed_step=placed, placing_temperature_c=placing_c))
    begin = found.mean_c[placed, np.arange(3)]
    np.testing.assert_allclose(begin, placing_c, rtol=1e-12)


def test_in_steady_weather_it_does_not_matter_when_a_slab_is_placed() -> None:
    placed = np.array([0, 60])
    found = go(course(2, placed_step=placed, bare_step=placed))
    np.testing.assert_allclose(
        found.surface_c[:-60, 0], found.surface_c[60:, 1], atol=1e-9
    )


def test_many_surfaces_are_marched_as_one_alone() -> None:
    placed = np.array([0, 7, 90])
    together = go(course(3, placed_step=placed, bare_step=placed))
    for i in range(3):
        alone = go(
            course(1, placed_step=placed[i : i + 1], bare_step=placed[i : i + 1])
        )
        np.testing.assert_allclose(
            together.surface_c[:, i], alone.surface_c[:, 0], atol=1e-9
        )


def test_cover_goes_on_at_its_setting_age() -> None:
    bare = go(course())
    covered = go(course(cover_at_h=np.array([6.0])))
    apart = np.flatnonzero(np.abs(covered.surface_c - bare.surface_c)[:, 0] > 1e-9)[0]
    refresh = apart // REFRESH
    assert apart % REFRESH == 0
    assert bare.setting_age_h[refresh, 0] >= 6.0 > bare.setting_age_h[refresh - 1, 0]


def test_covered_night_is_warmer() -> None:
    bare, covered = (
        go(course(covered_step=np.array([step])), air_c=5.0, sky_c=-10.0)
        for step in (10_000, 36)
    )
    assert covered.surface_c[90, 0] > bare.surface_c[90, 0] + 2


def test_forms_keep_the_face_dry_and_warm_until_they_go() -> None:
    found = go(course(bare_step=np.array([120]), placed_step=np.array([0])))
    bare = go(course())
    assert found.surface_c[119, 0] > bare.surface_c[119, 0] + 1
    assert found.surface_c[130, 0] < found.surface_c[119, 0] - 3


@pytest.mark.parametrize(
    ("surface_c", "core_c"), [(27.0, None), (None, 33.0), (27.0, 33.0)]
)
def test_history_passes_through_a_reading_and_goes_on_from_it(
    surface_c: float | None, core_c: float | None
) -> None:
    plain = go(course(2))
    read = go(course(2, measured={100: [Measured(0, surface_c, core_c)]}))
    np.testing.assert_array_equal(read.surface_c[:100], plain.surface_c[:100])
    np.testing.assert_array_equal(read.surface_c[:, 1], plain.surface_c[:, 1])
    if surface_c is not None:
        assert read.surface_c[100, 0] == pytest.approx(surface_c)
    if core_c is not None:
        assert read.middle_c[100, 0] == pytest.approx(core_c)
    warmer = read.mean_c[100, 0] > plain.mean_c[100, 0]
    assert (read.mean_c[110, 0] > plain.mean_c[110, 0]) == warmer


def test_reading_before_placing_is_left_aside() -> None:
    placed = np.array([0, 50])
    of = course(2, placed_step=placed, bare_step=placed)
    # So hot that the setting formula would refuse it, were it heeded.
    read = replace(of, measured={21: [Measured(1, 89.0, None)]})
    np.testing.assert_array_equal(go(read).surface_c, go(of).surface_c)


def test_setting_age_runs_only_while_there_is_concrete() -> None:
    placed = np.array([0, 60, 10_000])
    age_h = go(course(3, placed_step=placed)).setting_age_h
    assert age_h[0].tolist() == [0.75] * 3
    assert age_h[10, 1] == 0.75
    assert age_h[11, 1] > 1.5
    assert age_h[-1, 2] == 0.75
    assert (np.diff(age_h[:, 0]) > 0).all()


def test_setting_counts_only_the_part_of_an_hour_after_placing() -> None:
    # Placed half an hour before the second refresh ends, at about 20 °C.
    age_h = go(course(placed_step=np.array([9]))).setting_age_h[:, 0]
    assert age_h[1] == 0.75
    assert age_h[2] == pytest.approx(0.75 + 0.5, abs=0.05)


@pytest.mark.parametrize("hours", [1, 5])
def test_last_refresh_may_be_cut_short(hours: int) -> None:
    steps = hours * 6 + 2
    found = temperatures(
        slab(), heat(), course(), steady_climate(hours + 1), steps, 10, REFRESH
    )
    assert found.surface_c.shape == (steps, 1)
    whole = temperatures(
        slab(), heat(), course(), steady_climate(hours + 1), hours * 6 + 6, 10, REFRESH
    )
    np.testing.assert_allclose(found.surface_c, whole.surface_c[:steps], atol=0.01)


def test_slab_on_cold_ground_is_colder_and_a_deck_does_not_mind() -> None:
    cold, warm = (
        temperatures(
            sections(["on_ground", "on_forms"], np.full(2, 0.2)), heat(2),
            course(2, ground_temperature_c=ground_c), steady_climate(96), 96 * 6, 10,
            REFRESH,
        )
        for ground_c in (2.0, 22.0)
    )  # fmt: skip
    assert cold.mean_c[-1, 0] < warm.mean_c[-1, 0] - 1
    np.testing.assert_array_equal(cold.mean_c[:, 1], warm.mean_c[:, 1])


def test_deck_on_forms_follows_the_air_below_it() -> None:
    # Its face sealed off, all heat goes through the form and still air, 0.264 m² K/W,
    # and through a third of the slab on average, 0.2 / (3 × 2) = 0.033. Times 0.2 m and
    # 2.4e6 J/(m³ K) that is a time constant of 39.6 h.
    closed = layers(1, 1e12, 0.0, 0.0)
    found = temperatures(
        sections(["on_forms"], np.array([0.2])), heat(total_j_m3=0.0),
        course(stages=(closed, closed, closed)), steady_climate(336, air_c=7.0),
        336 * 6, 10, REFRESH,
    )  # fmt: skip
    assert found.mean_c[-1, 0] == pytest.approx(7.0, abs=0.05)
    one_constant = found.mean_c[round(39.6 * 6), 0]
    assert (one_constant - 7) / (20 - 7) == pytest.approx(np.exp(-1), abs=0.01)


def test_ground_begins_between_the_air_and_its_own_depth() -> None:
    # Air at 20 °C, ground at 20 °C, concrete at 20 °C, no heat and no sky: all rests.
    # With ground at 0 °C at depth its mean is 10 °C, and the slab slowly cools.
    def end_c(ground_c: float) -> float:
        still = {"air_c": 20.0, "humidity": 1.0, "sky_c": 20.0}
        of = course(ground_temperature_c=ground_c)
        return float(go(of, 24, heat(total_j_m3=0.0), **still).mean_c[-1, 0])

    assert end_c(20.0) == pytest.approx(20.0, abs=1e-6)
    assert 17.0 < end_c(0.0) < 19.9


def test_surfaces_may_come_in_any_order_of_placing() -> None:
    placed = np.array([90, 7, 200])
    found = go(course(3, placed_step=placed, bare_step=placed))
    for i, step in enumerate(placed):
        alone = go(
            course(1, placed_step=placed[i : i + 1], bare_step=placed[i : i + 1])
        )
        np.testing.assert_allclose(found.mean_c[:, i], alone.mean_c[:, 0], atol=1e-9)
        assert found.mean_c[step, i] == pytest.approx(20.0)
