import numpy as np
import pytest

from models.hydration.ageing import age_and_strength, ageing_rate
from models.records import Mix, Profile
from tests.builders import profile

MIX = Mix(id="C30", strength_mpa=30, cement_kg_m3=340)
ENERGY, NO_MORE = np.array([40_000.0]), np.zeros(1)
#: Long before the grid: final set is over when it begins.
SET_BEFORE = -1e6


def by(maturity: str, **fields: object) -> Profile:
    return profile().model_copy(update={"maturity": maturity, **fields})


@pytest.mark.parametrize(
    ("rule", "rate"),
    [
        # (10 + 10) / 30 and (10 - 0) / 20.
        (by("nurse_saul"), 0.667),
        (by("nurse_saul", datum_c=0.0), 0.500),
        # Rates at 10 °C worked out from the printed equations: see test_equivalent_age.
        (by("arrhenius"), 0.5601),
        (by("arrhenius", activation_energy_j_mol=45_000.0), 0.5210),
        (by("arrhenius_variable"), 0.4974),
        (by("eurocode"), 0.6161),
    ],
    ids=lambda x: x.maturity if isinstance(x, Profile) else "",
)
def test_profile_names_the_function_and_its_constants(
    rule: Profile, rate: float
) -> None:
    found = ageing_rate(rule, ENERGY, np.array([[10.0]]), NO_MORE)
    assert found[0, 0] == pytest.approx(rate, abs=5e-4)


# Values at 0 °C from the printed equations, see test_equivalent_age; halves of them
# half way to -10 °C. Saul's own datum needs no help: 5/30 at -5 °C.
@pytest.mark.parametrize(
    ("maturity", "at_0_c", "at_minus_5_c"),
    [("eurocode", 0.3664, 0.1832), ("arrhenius", 0.3007, 0.1504),
     ("arrhenius_variable", 0.1511, 0.0756), ("nurse_saul", 0.3333, 0.1667)],
)  # fmt: skip
def test_ageing_runs_straight_down_to_nothing_at_minus_ten(
    maturity: str, at_0_c: float, at_minus_5_c: float
) -> None:
    cold_c = np.array([[0.0], [-5.0], [-10.0], [-12.0]])
    rates = ageing_rate(by(maturity), ENERGY, cold_c, NO_MORE)[:, 0]
    assert rates.tolist() == pytest.approx([at_0_c, at_minus_5_c, 0, 0], abs=1e-3)


@pytest.mark.parametrize("maturity", ["eurocode", "arrhenius_variable", "nurse_saul"])
def test_slag_slows_every_function_in_the_cold(maturity: str) -> None:
    # 14 286 J/mol more: exp(-1718.3 × (1/278.15 - 1/293.15)) = exp(-0.3161) = 0.729.
    more = np.array([14_286.0])
    at_5_c = np.array([[5.0]])
    plain, slag = (
        ageing_rate(by(maturity), ENERGY, at_5_c, each)[0, 0]
        for each in (NO_MORE, more)
    )
    assert slag / plain == pytest.approx(0.729, abs=5e-4)


def test_the_mix_s_own_energy_holds_all_of_it_already() -> None:
    more = np.array([14_286.0])
    slag = ageing_rate(by("arrhenius"), ENERGY + more, np.array([[5.0]]), more)
    plain = ageing_rate(by("arrhenius"), ENERGY, np.array([[5.0]]), NO_MORE)
    assert slag[0, 0] / plain[0, 0] == pytest.approx(0.729, abs=5e-4)


@pytest.mark.parametrize(
    "maturity", ["eurocode", "arrhenius", "arrhenius_variable", "nurse_saul"]
)
def test_hotter_than_its_function_concrete_ages_no_faster(maturity: str) -> None:
    hot_c = np.array([[80.0], [84.0], [95.0]])
    rates = ageing_rate(by(maturity), ENERGY, hot_c, NO_MORE)[:, 0]
    assert rates.tolist() == [rates[0]] * 3


def test_age_begins_at_placing_and_counts_hours_at_20_degrees() -> None:
    surface_c = np.full((300, 2), 20.0)
    surface_c[:50, 1] = np.nan
    age_h, strength = age_and_strength(
        surface_c, [by("arrhenius")] * 2, [MIX, MIX], 1 / 6, np.full(2, 50 / 6)
    )
    np.testing.assert_allclose(age_h[:, 0], np.arange(300) / 6)
    np.testing.assert_allclose(age_h[50:, 1], np.arange(250) / 6, atol=1e-9)
    assert (age_h[:51, 1] == 0).all()
    assert (strength[:51, 1] == 0).all()
    # Set after 8.33 h: nothing until then; the curve that leads to 3 days from there.
    assert (strength[:51, 0] == 0).all()
    assert 0 < strength[52, 0] < 0.01


def test_surfaces_of_different_profiles_age_by_their_own() -> None:
    surface_c = np.full((200, 3), 10.0)
    rules = [by("nurse_saul"), by("eurocode"), by("nurse_saul")]
    slow = MIX.model_copy(update={"cement_class": "S"})
    age_h, strength = age_and_strength(
        surface_c, rules, [MIX, MIX, slow], 0.5, np.full(3, SET_BEFORE)
    )
    assert age_h[-1].tolist() == pytest.approx(
        [199 / 3, 0.6161 * 99.5, 199 / 3], rel=1e-3
    )
    assert strength[-1, 2] < strength[-1, 0]


def test_each_mix_brings_its_own_activation_energy() -> None:
    hasty = MIX.model_copy(update={"activation_energy_j_mol": 45_000.0})
    age_h, _ = age_and_strength(
        np.full((11, 2), 10.0),
        [by("arrhenius")] * 2,
        [MIX, hasty],
        1.0,
        np.full(2, SET_BEFORE),
    )
    assert age_h[-1].tolist() == pytest.approx([5.601, 5.210], abs=1e-3)


def test_nothing_is_left_unknown() -> None:
    rng = np.random.default_rng(3)
    surface_c = rng.uniform(-20, 70, (400, 5))
    surface_c[:77, 2] = np.nan
    for maturity in ("nurse_saul", "arrhenius", "arrhenius_variable", "eurocode"):
        found = age_and_strength(
            surface_c, [by(maturity)] * 5, [MIX] * 5, 1 / 6, np.full(5, 20.0)
        )
        for part in found:
            assert np.isfinite(part).all()
            assert (np.diff(part, axis=0) >= 0).all()
