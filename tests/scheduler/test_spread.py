"""Early and late drying clocks of the forecast and of the model."""

import numpy as np
import pytest

from scheduler.clocked import Clocked, run_clocks, spread
from tests.models.files.folders import write_site


@pytest.fixture(scope="module")
def clocked(tmp_path_factory: pytest.TempPathFactory) -> Clocked:
    """Burlap, of which the site gives what it holds, and a sheet, of which not."""
    return run_clocks(write_site(tmp_path_factory.mktemp("site")))


def test_a_model_that_is_off_dries_covers_sooner_and_later(clocked: Clocked) -> None:
    early, late = spread(clocked).model
    dries = clocked.drying.cover_loss_l_m2_h > 0.001  # dew falls on some hours
    assert dries.any()
    # Without leaks or rain all loss is evaporation: 40 % more of it, and less.
    loss = clocked.drying.cover_loss_l_m2_h[dries]
    assert early.cover_loss_l_m2_h[dries] == pytest.approx(1.4 * loss, abs=3e-6)
    assert late.cover_loss_l_m2_h[dries] == pytest.approx(0.6 * loss, abs=3e-6)


def test_what_the_site_says_of_its_covers_is_not_doubted(clocked: Clocked) -> None:
    early, late = spread(clocked).model
    held = dict(zip(clocked.drying.surface_ids, clocked.drying.held_l_m2, strict=True))
    for name, share in (("Q1-top", (1, 1)), ("Q2-top", (0.75, 1.5))):
        column = clocked.drying.surface_ids.index(name)
        shown = early.held_l_m2[column], late.held_l_m2[column]
        assert shown == pytest.approx([part * held[name] for part in share])


def test_the_two_spreads_are_told_apart_and_leave_the_clock_as_it_is(
    clocked: Clocked,
) -> None:
    before = clocked.drying.cover_loss_l_m2_h.copy()
    both = spread(clocked)
    assert not np.array_equal(
        both.forecast[0].cover_loss_l_m2_h, both.model[0].cover_loss_l_m2_h
    )
    assert "±40 %" in both.model_words
    assert np.array_equal(clocked.drying.cover_loss_l_m2_h, before)
