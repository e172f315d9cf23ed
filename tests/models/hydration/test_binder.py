import pytest

from models.errors import OutOfRangeError
from models.hydration.binder import CEMENTS, Shares, binder_heat, cement_of
from models.hydration.mix_figures import energy_j_mol, heat_figures, set_times_h
from models.records import Mix


def mix(**fields: object) -> Mix:
    base: dict[str, object] = {"id": "C30", "strength_mpa": 30, "cement_kg_m3": 340}
    return Mix.model_validate(base | fields)


def test_water_sets_how_far_it_hydrates() -> None:
    # Schindler and Folliard (2005): 1.031 × 0.45 / (0.194 + 0.45) = 0.7204.
    assert heat_figures(mix(water_cement_fraction=0.45)).ultimate_fraction == (
        pytest.approx(0.7204, abs=5e-5)
    )


def test_half_slag_takes_longer_and_ends_lower() -> None:
    plain, slag = heat_figures(mix()), heat_figures(mix(slag_fraction=0.5))
    # exp(1.3 / 2) = 1.916; 1 - 0.23 / 4 = 0.9425; half of 460 and half of 420 kJ/kg.
    assert slag.tau_h / plain.tau_h == pytest.approx(1.916, abs=1e-3)
    assert slag.beta == plain.beta
    assert slag.ultimate_fraction / plain.ultimate_fraction == pytest.approx(0.9425)
    assert slag.heat_j_kg == pytest.approx(440_000)
    assert slag.energy_j_mol - plain.energy_j_mol == pytest.approx(2700)


def test_what_is_not_named_counts_as_slag() -> None:
    assert heat_figures(mix(scm_fraction=0.5)) == heat_figures(mix(slag_fraction=0.5))
    both = mix(scm_fraction=0.5, fly_ash_fraction=0.2)
    named = mix(slag_fraction=0.3, fly_ash_fraction=0.2)
    assert heat_figures(both) == pytest.approx(heat_figures(named))


def test_a_slow_cement_counts_whole_until_its_shares_are_named() -> None:
    assert cement_of("S", Shares()) is CEMENTS["S"]
    assert cement_of("S", Shares(slag=0.5)) is CEMENTS["N"]
    assert cement_of("R", Shares(slag=0.5)) is CEMENTS["R"]


def test_heat_and_strength_have_an_activation_energy_each() -> None:
    slag = mix(slag_fraction=0.7)
    # Barnett et al. (2006): about 60 kJ/mol by strength at 70 %; Riding et al. (2011):
    # 16.2 kJ/mol for all slag less what the Portland cement took along.
    assert energy_j_mol(slag) == pytest.approx(60_000)
    assert heat_figures(slag).energy_j_mol == pytest.approx(43_780)


def test_the_site_s_own_figures_stand_before_the_binder_s() -> None:
    own = mix(
        slag_fraction=0.5, heat_j_kg=400_000, tau_h=30, beta_fraction=0.6,
        alpha_ultimate_fraction=0.8, heat_activation_energy_j_mol=45_000,
        activation_energy_j_mol=50_000,
    )  # fmt: skip
    assert tuple(heat_figures(own)) == (400_000, 30, 0.6, 0.8, 45_000)
    assert energy_j_mol(own) == 50_000
    part = heat_figures(mix(slag_fraction=0.5, tau_h=30))
    assert part.tau_h == 30
    assert part.beta == heat_figures(mix(slag_fraction=0.5)).beta


@pytest.mark.parametrize(
    ("given", "sets_h"),
    [
        ({}, (4.5, 6.5)),
        ({"cement_class": "S"}, (6.0, 8.5)),
        # 2.2 h for all slag, 5 h for all ash.
        ({"slag_fraction": 0.5}, (5.6, 7.6)),
        ({"fly_ash_fraction": 0.2}, (5.5, 7.5)),
        ({"initial_set_h": 7.0}, (7.0, 9.0)),
        ({"final_set_h": 9.0}, (7.0, 9.0)),
        ({"final_set_h": 3.0}, (1.5, 3.0)),
        ({"initial_set_h": 5.0, "final_set_h": 9.0}, (5.0, 9.0)),
    ],
)
def test_set_times(given: dict[str, object], sets_h: tuple[float, float]) -> None:
    assert set_times_h(mix(**given)) == pytest.approx(sets_h)


def test_shares_of_more_than_the_binder_are_refused() -> None:
    with pytest.raises(OutOfRangeError, match=r"no Portland cement.* 0 to 0\.95"):
        binder_heat(CEMENTS["N"], Shares(0.6, 0.4), 0.5)
