"""Covers whose true figures are known, learned from crews that err."""

from collections.abc import Sequence
from typing import get_args

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.drying.covers import cover_properties, cover_ranges
from models.drying.learned import belief
from models.drying.learned import finds as formulas
from models.drying.learned.finds import PATCHY_FROM, Find, log_likelihood
from models.drying.learned.learn import (
    SURFACE_SPREAD,
    as_learned,
    learn,
    learned_of,
)
from models.records import Condition, CoverKind, LearnedCover, LearnedFactor
from tests.models.drying.learned.crews import HELD_L_M2, finds

KIND: CoverKind = "burlap_double"
CREWS = range(40)
ASKED = 0.15  # of the true figure, after ten finds


def whole(found: Sequence[Find]) -> LearnedCover:
    return learn({KIND: found})[0]


def of_surface(found: Sequence[Find], surface_id: str = "P1-top") -> LearnedCover:
    best = learned_of(learn({KIND: found}), KIND, surface_id)
    assert best is not None
    return best


def shares_near(estimates: list[float], true: float) -> float:
    return float(np.mean([abs(each / true - 1) <= ASKED for each in estimates]))


@pytest.mark.parametrize("loss", [0.7, 1.0, 1.6])
def test_the_loss_of_a_surface_is_found_after_ten_finds(loss: float) -> None:
    """In nine crews of ten, each with errors of its own."""
    found = [of_surface(finds(10, seed, loss=loss)) for seed in CREWS]
    assert all(each.surface_id == "P1-top" for each in found)
    assert shares_near([each.loss.median_factor for each in found], loss) >= 0.9


def test_the_loss_of_a_kind_is_found_over_many_surfaces() -> None:
    surfaces = tuple(f"P{number}-top" for number in range(10))
    found = [whole(finds(50, seed, loss=1.6, surfaces=surfaces)) for seed in range(20)]
    assert shares_near([each.loss.median_factor for each in found], 1.6) >= 0.9


def test_how_soon_it_is_dry_is_found_without_any_litres() -> None:
    """Conditions alone tell loss over water held, not the two apart."""
    made = [
        of_surface(finds(10, seed, loss=1.6, held=0.9, refills=False)) for seed in CREWS
    ]
    rates = [each.loss.median_factor / each.held.median_factor for each in made]
    assert shares_near(rates, 1.6 / 0.9) >= 0.85
    assert all(each.refills == 0 for each in made)


def test_thirty_finds_tell_what_it_holds_from_what_it_loses() -> None:
    found = [of_surface(finds(30, seed, loss=1.0, held=0.7)) for seed in CREWS]
    assert shares_near([each.loss.median_factor for each in found], 1.0) >= 0.9
    assert shares_near([each.held.median_factor for each in found], 0.7) >= 0.8


def test_more_finds_leave_less_doubt() -> None:
    def width(count: int) -> float:
        loss = of_surface(finds(count, 1, loss=1.6)).loss
        return loss.high_factor / loss.low_factor

    assert width(40) < width(10) < width(5)


def test_wet_finds_long_before_it_could_be_dry_say_nothing() -> None:
    learned = whole([_wet(0.3)] * 30)
    assert learned.loss.median_factor == pytest.approx(
        learned.loss_prior.median_factor, rel=0.02
    )
    assert learned.held.median_factor == pytest.approx(
        learned.held_prior.median_factor, rel=0.02
    )


@pytest.mark.parametrize("lost", [0.3, 0.6, 0.8, 0.95])
def test_wet_finds_say_not_yet_and_no_more(lost: float) -> None:
    """However many there are, what remains is what could still be wet by the prior.

    Drawn from the prior and cut where the cover would be patchy by then. Each find errs
    by its own draw, by 0.14 of the water held or less, and the worst of thirty normal
    draws is two spreads out: so the cut lies up to 0.3 further in.
    """
    chance = np.random.default_rng(5)
    (low, high), (least, most) = cover_ranges(KIND)
    losses, holds = _drawn(chance, low, high), _drawn(chance, least, most)
    surface = losses * np.exp(chance.normal(0, SURFACE_SPREAD, losses.size))
    left = 1 - surface * lost / holds
    further = np.median(surface[left > PATCHY_FROM + 0.3])
    no_further = np.median(surface[left > PATCHY_FROM])
    after = of_surface([_wet(lost)] * 30).loss.median_factor
    assert 0.99 * further <= after <= 1.01 * no_further


def _about(prior: LearnedFactor) -> object:
    """No drift: within a fiftieth."""
    return pytest.approx(prior.median_factor, rel=0.02)


def _drawn(
    chance: np.random.Generator, low: float, high: float
) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    spreads = chance.normal(0, 1, 400_000)
    below, above = -np.log(low) / 1.645, np.log(high) / 1.645
    return np.asarray(np.exp(spreads * np.where(spreads < 0, below, above)))


def _wet(lost: float) -> Find:
    return Find("P1-top", "wet", lost * HELD_L_M2, HELD_L_M2)


@given(st.permutations(range(12)))
@settings(max_examples=10)
def test_the_order_of_finds_has_no_effect(order: list[int]) -> None:
    surfaces = ("P1-top", "P2-top")
    found = finds(12, 3, loss=1.3, surfaces=surfaces)
    assert learn({KIND: [found[i] for i in order]}) == learn({KIND: found})


def test_ice_and_nobody_knows_say_nothing() -> None:
    found = [Find("P1-top", each, 0.7, HELD_L_M2) for each in ("frozen", "unknown")]
    learned = whole(found)
    assert (learned.finds, learned.refills) == (0, 0)
    assert learned.loss.median_factor == pytest.approx(
        learned.loss_prior.median_factor, rel=1e-6
    )


def test_a_surface_is_told_apart_only_by_enough_finds() -> None:
    assert of_surface(finds(5, 1, loss=1.6)).surface_id == "P1-top"
    found = finds(4, 1, loss=1.6) + finds(9, 2, loss=1.0, surfaces=("P2-top",))
    assert [each.surface_id for each in learn({KIND: found})] == [None, "P2-top"]
    assert of_surface(found).surface_id is None
    assert learned_of(learn({KIND: found}), "pond", "P1-top") is None


def test_no_find_counts_twice() -> None:
    """Alone under its cover, a surface has the table for its prior, and its finds."""
    found = finds(10, 1, loss=1.3)
    (low_high, held) = cover_ranges(KIND)
    before = belief.blurred(
        belief.prior(belief.Range(*low_high), belief.Range(*held)), SURFACE_SPREAD
    )
    after = before + sum(log_likelihood(each) for each in found)
    wanted = belief.loss_of(np.asarray(after))
    learned = of_surface(found).loss
    assert learned.median_factor == pytest.approx(wanted.median, rel=1e-6)
    assert learned.high_factor == pytest.approx(wanted.high, rel=1e-6)


def test_a_surface_that_dries_faster_than_its_like_keeps_its_own_figure() -> None:
    others = finds(30, 4, loss=1.0, surfaces=("P2-top", "P3-top", "P4-top"))
    found = [*others, *finds(15, 5, loss=1.5)]
    fast, usual = of_surface(found), of_surface(found, "P2-top")
    assert fast.loss.median_factor > 1.25 > usual.loss.median_factor


def test_what_the_site_has_weighed_moves_little() -> None:
    found = finds(10, 6, loss=1.0, held=0.7)
    free, weighed = whole(found), learn({KIND: found}, weighed={KIND})[0]
    assert free.held.median_factor < weighed.held.median_factor - 0.1
    assert weighed.held_prior.high_factor < 1.15 < free.held_prior.high_factor


def test_the_prior_is_what_the_table_states() -> None:
    """Nine tenths lie within 0.6 to 1.2 L/m² where 0.8 is counted on, and ±40 %."""
    learned = whole([_wet(0.01)])
    assert learned.loss_prior.median_factor == pytest.approx(1, rel=0.02)
    assert learned.held_prior.low_factor == pytest.approx(0.6 / 0.8, rel=0.01)
    assert learned.held_prior.high_factor == pytest.approx(1.2 / 0.8, rel=0.01)
    assert learned.loss_prior.low_factor == pytest.approx(0.6, rel=0.01)
    assert learned.loss_prior.high_factor == pytest.approx(1.4, rel=0.01)


def test_a_cover_is_changed_by_what_was_learned() -> None:
    cover = cover_properties(KIND)
    learned = of_surface(finds(10, 1, loss=1.6))
    changed = as_learned(cover, learned)
    assert changed.loss_factor == learned.loss.median_factor
    assert changed.held_l_m2 == cover.held_l_m2 * learned.held.median_factor
    assert as_learned(cover, None) is cover


def test_the_words_for_conditions_are_those_of_the_ledger() -> None:
    assert get_args(formulas.Condition) == get_args(Condition)
