import numpy as np
import pytest

from models.errors import OutOfRangeError
from models.hydration.ageing import age_and_strength, ageing_rate
from models.hydration.mix_strength import strength_coefficient
from models.records import Mix, Profile
from tests.builders import profile

MIX = Mix(id="C30", strength_mpa=30, cement_kg_m3=340)
ENERGY = np.array([40_000.0])


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
    found = ageing_rate(rule, ENERGY, np.array([[10.0]]))
    assert found[0, 0] == pytest.approx(rate, abs=5e-4)


@pytest.mark.parametrize(
    ("maturity", "cold_c"),
    [("eurocode", -1.0), ("arrhenius", -11.0), ("arrhenius_variable", -11.0),
     ("nurse_saul", -12.0)],
)  # fmt: skip
def test_colder_than_its_function_concrete_does_not_age(
    maturity: str, cold_c: float
) -> None:
    assert ageing_rate(by(maturity), ENERGY, np.array([[cold_c]]))[0, 0] == 0


@pytest.mark.parametrize("maturity", ["eurocode", "arrhenius", "arrhenius_variable"])
def test_hotter_than_its_function_is_refused(maturity: str) -> None:
    with pytest.raises(OutOfRangeError, match="to 80 °C"):
        ageing_rate(by(maturity), ENERGY, np.array([[84.0]]))


def test_known_two_day_strength_beats_the_class() -> None:
    # -ln 0.5 / (sqrt 14 - 1) = 0.6931 / 2.7417 = 0.2528
    known = MIX.model_copy(update={"strength_ratio_fraction": 0.5})
    assert strength_coefficient(known) == pytest.approx(0.2528, abs=5e-5)
    assert strength_coefficient(MIX) == 0.25


def test_strong_concrete_counts_as_rapid() -> None:
    # 55 + 8 = 63 MPa mean, above 60 (Model Code 2010).
    assert strength_coefficient(MIX.model_copy(update={"strength_mpa": 55})) == 0.20


def test_age_begins_at_placing_and_counts_hours_at_20_degrees() -> None:
    surface_c = np.full((300, 2), 20.0)
    surface_c[:50, 1] = np.nan
    age_h, strength = age_and_strength(
        surface_c, [by("arrhenius")] * 2, [MIX, MIX], 1 / 6
    )
    np.testing.assert_allclose(age_h[:, 0], np.arange(300) / 6)
    np.testing.assert_allclose(age_h[50:, 1], np.arange(250) / 6, atol=1e-9)
    assert (age_h[:51, 1] == 0).all()
    assert (strength[:51, 1] == 0).all()
    # 48 h: exp(0.25 (1 - sqrt 14)) = 0.5039
    assert strength[288, 0] == pytest.approx(0.5039, abs=5e-5)


def test_surfaces_of_different_profiles_age_by_their_own() -> None:
    surface_c = np.full((200, 3), 10.0)
    rules = [by("nurse_saul"), by("eurocode"), by("nurse_saul")]
    slow = MIX.model_copy(update={"cement_class": "S"})
    age_h, strength = age_and_strength(surface_c, rules, [MIX, MIX, slow], 0.5)
    assert age_h[-1].tolist() == pytest.approx(
        [199 / 3, 0.6161 * 99.5, 199 / 3], rel=1e-3
    )
    assert strength[-1, 2] < strength[-1, 0]


def test_each_mix_brings_its_own_activation_energy() -> None:
    hasty = MIX.model_copy(update={"activation_energy_j_mol": 45_000.0})
    age_h, _ = age_and_strength(
        np.full((11, 2), 10.0), [by("arrhenius")] * 2, [MIX, hasty], 1.0
    )
    assert age_h[-1].tolist() == pytest.approx([5.601, 5.210], abs=1e-3)


def test_nothing_is_left_unknown() -> None:
    rng = np.random.default_rng(3)
    surface_c = rng.uniform(-20, 70, (400, 5))
    surface_c[:77, 2] = np.nan
    for maturity in ("nurse_saul", "arrhenius", "arrhenius_variable", "eurocode"):
        found = age_and_strength(surface_c, [by(maturity)] * 5, [MIX] * 5, 1 / 6)
        for part in found:
            assert np.isfinite(part).all()
            assert (np.diff(part, axis=0) >= 0).all()
