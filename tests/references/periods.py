"""When curing ends by a built-in rule under a steady history, to ten minutes."""

from collections.abc import Callable

import numpy as np

from models.profiles.loader import builtin_profile
from models.profiles.period import curing_end
from models.records import Mix
from scheduler.methods.case.method_table import methods
from tests.builders import surface

STEP_MIN = 10
STEP_DAYS = STEP_MIN / 1440
_LONGEST_DAYS = 40


def days(
    rule: str,
    at_c: float = 20,
    *,
    exposure: str = "open",
    method: str = "burlap_double",
    strength_fraction: float = 0.0,
    **mix: object,
) -> Callable[[], float]:
    """Days from placing until curing ends; NaN where it does not within 40.

    Parameters
    ----------
    rule : str
        Id of the rule.
    at_c : float
        Of the surface, all the time. [°C]
    strength_fraction : float
        Of the specified strength, all the time. [-]
    **mix
        Fields of the mix that differ from ordinary C30 of 340 kg/m³.
    """

    def ours() -> float:
        of = {"id": "x", "strength_mpa": 30, "cement_kg_m3": 340}
        steps = round(_LONGEST_DAYS / STEP_DAYS)
        kind = methods()[method].rule_kind  # type: ignore[index]  # a key of the table
        end = curing_end(
            builtin_profile(rule),
            Mix.model_validate(of | mix),
            surface(exposure=exposure, method=method, rule_kind=kind),
            step_min=STEP_MIN,
            placed_step=0,
            initial_set_h=4.5,
            surface_temperature_c=np.full(steps, float(at_c)),
            strength_fraction=np.full(steps, strength_fraction),
        )
        return float("nan") if end.step is None else end.step * STEP_DAYS

    return ours
