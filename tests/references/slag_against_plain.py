"""Half slag beside plain cement: ``python tests/references/slag_against_plain.py``.

A slab of 250 mm at 5 °C and a raft of 2 m at 20 °C, all else equal. Meant for reading;
what is said of it in print is held in ``test_slag_against_plain.py``.
"""

import sys
from dataclasses import dataclass
from datetime import timedelta
from functools import cache
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

import numpy as np
from numpy.typing import NDArray

from models.drying.surroundings import surroundings
from models.hydration import clock
from models.profiles.loader import builtin_profile
from models.records import Floats, Grid, HydrationHistory, Mix, Pour, Profile, SiteInput
from tests.builders import MONDAY, pour, site_input, surface, weather

_DAYS = 42
PLAIN = Mix(id="C30", strength_mpa=30, cement_kg_m3=350, water_cement_fraction=0.5)
SLAG = PLAIN.model_copy(update={"slag_fraction": 0.5})
#: What ends curing: rule, and whether the site shows strength by tests.
RULES = (
    ("aci_318", True), ("en13670_class2", False), ("en13670_class3", False),
    ("din1045_3", False), ("ufgs_03301a", False),
)  # fmt: skip


@dataclass(frozen=True)
class Course:
    """One concrete in one member."""

    sets_h: float
    to_5_mpa_h: float
    to_half_h: float
    to_70_pct_h: float
    share_3_d: float
    peak_c: float
    peak_h: float
    core_to_face_k: float
    ends_d: dict[str, float]


@cache
def slab(of: Mix, air_c: float = 5.0) -> Course:
    """A slab on ground of the air's temperature, placed 7 K warmer."""
    return _course(of, air_c, 250, air_c + 7)


@cache
def raft(of: Mix) -> Course:
    """A raft of 2 m at 20 °C."""
    return _course(of, 20.0, 2000, 20.0)


def _course(of: Mix, air_c: float, thickness_mm: float, placed_c: float) -> Course:
    grid = Grid(MONDAY, 10, _DAYS * 144)
    member = pour(
        thickness_mm=thickness_mm, placing_temperature_c=placed_c, exposure="indoors"
    )
    ends_d = {
        name: _ends_d(_march(of, air_c, member, grid, _rule(name, tested)))
        for name, tested in RULES
    }
    history = _march(of, air_c, member, grid, _rule("aci_318", tested=True))
    hours = (np.arange(grid.steps) * grid.step_min / 60) - 5
    share = history.strength_fraction[:, 0]
    core_c, face_c = (
        temperature_c[:, 0]
        for temperature_c in (
            history.core_temperature_c, history.surface_temperature_c
        )
    )  # fmt: skip
    sets = history.events[0].final_set.expected_at - member.placing_ends_at
    return Course(
        sets_h=sets.total_seconds() / 3600,
        to_5_mpa_h=_first(hours, share >= 5 / 30),
        to_half_h=_first(hours, share >= 0.5),
        to_70_pct_h=_first(hours, share >= 0.7),
        share_3_d=float(share[np.searchsorted(hours, 72)]),
        peak_c=float(np.nanmax(core_c)),
        peak_h=float(hours[np.nanargmax(core_c)]),
        core_to_face_k=float(np.nanmax(core_c - face_c)),
        ends_d=ends_d,
    )


def _rule(name: str, tested: bool) -> Profile:
    return builtin_profile(name).model_copy(update={"strength_tested": tested})


def _march(
    of: Mix, air_c: float, member: Pour, grid: Grid, rule: Profile
) -> HydrationHistory:
    given = _site(of, air_c, rule)
    top = surface(member)
    return clock.run([top], given, surroundings([top], given, grid), grid)


def _site(of: Mix, air_c: float, rule: Profile) -> SiteInput:
    given = site_input()
    even = weather(hours=24 * (_DAYS + 3), mean_c=air_c, swing_k=0.0, wind_m_s=2.0)
    moist = {"solar_w_m2": 0.0, "humidity_fraction": 1.0}
    dark = tuple(hour.model_copy(update=moist) for hour in even.hours)
    return given.model_copy(
        update={
            "site": given.site.model_copy(
                update={"mixes": (of,), "ground_temperature_c": air_c}
            ),
            "weather": even.model_copy(update={"hours": dark}),
            "profiles": {"seven_days": rule},
        }
    )


def _ends_d(history: HydrationHistory) -> float:
    ends = history.events[0].curing_ends
    if ends is None:
        return float("inf")
    placed_at = MONDAY + timedelta(hours=5)
    return (ends.expected_at - placed_at).total_seconds() / 86_400


def _first(hours: Floats, reached: NDArray[np.bool_]) -> float:
    return float(hours[np.argmax(reached)]) if reached.any() else float("inf")


def table() -> str:
    """Lay the courses side by side as Markdown."""
    rows = ["| | plain | half slag |", "| --- | --- | --- |"]
    for title, of in (("slab of 250 mm at 5 °C", slab), ("raft of 2 m at 20 °C", raft)):
        plain, slag = of(PLAIN), of(SLAG)
        rows.append(f"| **{title}** | | |")
        for name, words, unit in (
            ("sets_h", "final set after placing", "h"),
            ("to_5_mpa_h", "5 MPa, as modelled", "h"),
            ("to_half_h", "half of the specified strength", "h"),
            ("to_70_pct_h", "70 % of it", "h"),
            ("peak_c", "hottest concrete", "°C"),
            ("peak_h", "at", "h"),
            ("core_to_face_k", "core over face, most", "K"),
        ):
            one, other = getattr(plain, name), getattr(slag, name)
            rows.append(f"| {words} | {one:.1f} {unit} | {other:.1f} {unit} |")
        for rule, ends in plain.ends_d.items():
            other = slag.ends_d[rule]
            rows.append(f"| curing ends by {rule} | {ends:.1f} d | {other:.1f} d |")
    return "\n".join(rows) + "\n"


if __name__ == "__main__":
    sys.stdout.write(table())
