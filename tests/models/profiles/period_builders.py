"""Steady weather and a short way to ask for the length of a period."""

import numpy as np

from models.profiles.loader import builtin_profile
from models.profiles.period import CuringEnd, curing_end
from models.records import Floats, Mix, Profile
from tests.builders import surface

STEP_MIN = 10
STEPS_PER_DAY = 144


def mix(**fields: object) -> Mix:
    """A plain mix of medium strength development."""
    base: dict[str, object] = {"id": "C30", "strength_mpa": 30, "cement_kg_m3": 340}
    return Mix.model_validate(base | fields)


def on_a_testing_site(name: str) -> Profile:
    """A built-in rule on a site that shows strength by tests."""
    return builtin_profile(name).model_copy(update={"strength_tested": True})


def steady(temperature_c: float, days: float = 40) -> Floats:
    """The same surface temperature throughout."""
    return np.full(round(days * STEPS_PER_DAY), float(temperature_c))


def end_of(
    profile: Profile,
    temperature_c: Floats,
    of: Mix | None = None,
    strength_fraction: Floats | None = None,
    placed_step: int = 0,
    initial_set_h: float = 4.5,
    **fields: str,
) -> CuringEnd:
    """End of curing of a deep slab's top that has no strength unless it is given."""
    weak = np.zeros(temperature_c.size)
    return curing_end(
        profile,
        of or mix(),
        surface(None, **fields),
        step_min=STEP_MIN,
        placed_step=placed_step,
        initial_set_h=initial_set_h,
        surface_temperature_c=temperature_c,
        strength_fraction=weak if strength_fraction is None else strength_fraction,
    )


def days_of(
    profile: Profile, temperature_c: Floats, of: Mix | None = None, **fields: str
) -> float:
    """Length of a period that is known to end [d]."""
    end = end_of(profile, temperature_c, of, None, 0, 4.5, **fields)
    assert end.step is not None, end.words
    return end.step / STEPS_PER_DAY
