"""Round losses for the audit's tests."""

from collections.abc import Callable

import numpy as np
import pytest

import scheduler.audit.replayed.loss as loss_module
from models.records import Floats


@pytest.fixture
def loses(monkeypatch: pytest.MonkeyPatch) -> Callable[[float], None]:
    """Let every cover lose so much; the formula has reference tests of its own."""

    def set_rate(rate_l_m2_h: float) -> None:
        def constant(concrete_c: Floats, *_: object) -> Floats:
            return np.full(concrete_c.shape, rate_l_m2_h)

        monkeypatch.setattr(loss_module, "cover_loss_kg_m2_h", constant)

    return set_rate


@pytest.fixture(autouse=True)
def tenth_of_a_litre(loses: Callable[[float], None]) -> None:
    """0.1 L/(m² h) unless a test says otherwise."""
    loses(0.1)
