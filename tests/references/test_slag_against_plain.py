"""Half slag beside plain cement, with what is said of it in print."""

import pytest

from tests.references.slag_against_plain import PLAIN, RULES, SLAG, raft, slab, table


# IJAMCE, floor slabs with GGBS (abstract, read): half slag takes 20 % off the peak of a
# slab; A. Parham (2004, read): 11 % off the adiabatic rise. A raft lies between them.
def test_half_slag_takes_as_much_off_a_raft_s_peak_as_tests_say() -> None:
    plain, slag = raft(PLAIN), raft(SLAG)
    lower = 1 - (slag.peak_c - 20) / (plain.peak_c - 20)
    assert 0.11 <= lower <= 0.20
    assert slag.core_to_face_k < plain.core_to_face_k


# CIRIA C660, A1.4.1 (page read): the peak of a blend takes longer to come.
def test_a_blend_s_peak_comes_later() -> None:
    assert raft(SLAG).peak_h > raft(PLAIN).peak_h + 12


# Betontechnische Daten, 9.5 (read): hottest after d + 0.5 days, 60 h for 2 m.
def test_the_raft_is_hottest_when_the_rule_says() -> None:
    assert raft(PLAIN).peak_h == pytest.approx(60, rel=0.35)


# Materials 18 (2025) 4525 (abstract, read): slag delays strength, more in the cold.
def test_slag_delays_more_in_the_cold() -> None:
    cold, warm = (
        slab(SLAG, c).to_5_mpa_h / slab(PLAIN, c).to_5_mpa_h for c in (5.0, 20.0)
    )
    assert cold > warm > 1.5


# Betontechnische Daten, 10.4 (read): class N at 5 °C withstands frost after 24 to 48 h,
# class S after 48 to 120 h, by water 0.40 to 0.60; half slag makes an N an S.
def test_both_withstand_frost_when_the_table_says() -> None:
    assert 24 <= slab(PLAIN).to_5_mpa_h <= 48
    assert 48 <= slab(SLAG).to_5_mpa_h <= 120


@pytest.mark.parametrize("rule", [name for name, _ in RULES])
def test_curing_of_a_blend_ends_later_in_the_cold_by_every_rule(rule: str) -> None:
    assert slab(SLAG).ends_d[rule] >= slab(PLAIN).ends_d[rule] + 2.4


def test_the_table_lays_both_side_by_side() -> None:
    said = table()
    assert said.count("| final set after placing |") == 2
    assert "inf" not in said
