"""When curing may end by a profile: one surface's history in, a step and words out.

How warm and how strong the surface becomes is the hydration clock's affair. Nothing is
extrapolated: a period that outlasts the arrays has no end here.
"""

from collections.abc import Collection
from dataclasses import dataclass
from math import ceil

import numpy as np

from models.records.clocks import Flags, Floats
from models.records.criterion import (
    Addition,
    Criterion,
    DaysRow,
    DegreeDaysRow,
    Row,
    StrengthRow,
    TableRow,
)
from models.records.mix import Mix
from models.records.profile import Profile
from models.records.rule_family import kinds_of
from models.records.surface import Surface

#: Strength at 2 days over that at 28 where the supplier gives none: the middle of the
#: bands rapid, medium and slow of EN 13670 Annex F. An assumption, on the long side of
#: 0.578, 0.504 and 0.353, which the curve of EN 1992-1-1, 3.1.2, gives the classes.
_ASSUMED_RATIO = {"R": 0.55, "N": 0.40, "S": 0.25}

#: Sums of many small steps: a minute short of the last day is the day.
_ROUNDING = 1e-9


@dataclass(frozen=True)
class CuringEnd:
    """Step at whose beginning curing has ended; None if the arrays end first.

    ``words`` is the criterion that decides, with its clause.
    """

    step: int | None
    words: str


def fits(row: Row, mix: Mix, surface: Surface) -> bool:
    """Whether a row holds for a surface and its mix."""
    return (
        (not row.cement_class or mix.hardens_as in row.cement_class)
        and (
            row.scm_above_fraction is None
            or mix.added_fraction > row.scm_above_fraction
        )
        and (not row.added or _only(row.added, mix))
        and (mix.ground_in or not row.ground_in)
        and (not row.families or surface.rule_kind in kinds_of(row.families))
        and (not row.exposure or surface.exposure in row.exposure)
        and (not row.elements or surface.element in row.elements)
    )


def _only(added: Collection[Addition], mix: Mix) -> bool:
    """Whether something is added to a cement by name, and nothing but these."""
    shares: dict[Addition, float] = {
        "slag": mix.as_slag_fraction,
        "fly_ash": mix.fly_ash_fraction,
        "silica_fume": mix.silica_fume_fraction,
    }
    there = {name for name, share in shares.items() if share > 0}
    return bool(there) and there <= set(added)


def criteria_for(profile: Profile, mix: Mix, surface: Surface) -> list[Criterion]:
    """Of each kind of criterion the first row that fits.

    A strength that could only shorten the days is left out unless the site tests it.
    """
    chosen: dict[str, Criterion] = {}
    for row in profile.ends:
        if row.kind not in chosen and fits(row, mix, surface):
            chosen[row.kind] = row
    if profile.combine == "first" and not profile.strength_tested and len(chosen) > 1:
        chosen.pop("strength", None)
    return list(chosen.values())


def days_needed(row: TableRow, ratio_fraction: float, temperature_c: Floats) -> Floats:
    """Days a table asks for at each temperature.

    Parameters
    ----------
    ratio_fraction : float
        Strength at 2 days over that at 28. [-]
    temperature_c : array
        Of the surface. [°C]

    Returns
    -------
    array
        Infinite where the table has no figure: below its last band, or for a
        concrete slower than its last column. [d]
    """
    needed = np.full(temperature_c.shape, np.inf)
    columns = [i for i, low in enumerate(row.ratios) if ratio_fraction >= low]
    if not columns:
        return needed
    edges = np.array(row.bands_c[::-1])
    days = np.array([band[columns[0]] for band in row.days[::-1]])
    inside = temperature_c >= edges[0]
    warm = temperature_c[inside]
    if row.interpolate:
        needed[inside] = np.interp(warm, edges, days)
    else:
        needed[inside] = days[np.searchsorted(edges, warm, side="right") - 1]
    return needed


def _ratio(mix: Mix) -> float:
    """Strength at 2 days over that at 28, the supplier's or assumed [-]."""
    return mix.strength_ratio_fraction or _ASSUMED_RATIO[mix.hardens_as]


def _pace(
    profile: Profile, row: Criterion, mix: Mix, surface: Surface, temperature_c: Floats
) -> Floats:
    """Share of the period earned per day at each temperature [1/d]."""
    if isinstance(row, TableRow):
        return 1 / days_needed(row, _ratio(mix), temperature_c)
    if isinstance(row, DegreeDaysRow):
        warmth = np.minimum(temperature_c, row.at_most_c) - row.datum_c
        counts = temperature_c >= row.at_or_above_c
        return np.where(counts, warmth / row.degree_days, 0.0)
    if isinstance(row, DaysRow):
        pace = np.full(temperature_c.shape, 1 / row.days)
        if row.at_or_above_c is not None:
            pace[~(temperature_c >= row.at_or_above_c)] = 0
        for slow in profile.slow:
            if fits(slow, mix, surface):
                cool = (temperature_c >= slow.at_or_above_c) & (
                    temperature_c < slow.below_c
                )
                pace[cool] /= slow.factor
        return pace
    return np.ones(temperature_c.shape)


def credited_h(
    profile: Profile,
    mix: Mix,
    surface: Surface,
    *,
    step_min: int,
    placed_step: int,
    surface_temperature_c: Floats,
    credited: Flags | None = None,
) -> Floats:
    """Hours that count towards the period, summed up to the end of each step.

    Parameters
    ----------
    placed_step : int
        First step after placing.
    surface_temperature_c : array (steps,)
        Before placing anything. [°C]
    credited : array of bool (steps,), optional
        Steps in which the surface was kept damp; all, where that is not known.

    Returns
    -------
    array (steps,)
        Time in which the conditions of every criterion in time held. [h]
    """
    counts = _damp(surface_temperature_c, placed_step, credited)
    after = slice(max(placed_step, 0), None)
    for row in criteria_for(profile, mix, surface):
        pace = _pace(profile, row, mix, surface, surface_temperature_c[after])
        counts[after] &= pace > 0
    return np.cumsum(counts, dtype=np.float64) * (step_min / 60)


def _damp(temperature_c: Floats, placed_step: int, credited: Flags | None) -> Flags:
    """Tell the steps after placing in which the surface was kept damp."""
    damp = np.arange(temperature_c.size) >= placed_step
    return damp if credited is None else damp & credited


def earned_fraction(
    profile: Profile,
    row: Criterion,
    mix: Mix,
    surface: Surface,
    *,
    step_min: int,
    placed_step: int,
    surface_temperature_c: Floats,
    strength_fraction: Floats,
    credited: Flags | None = None,
) -> Floats:
    """Share of one criterion that is met by the end of each step; above 1, all of it.

    Parameters are those of :func:`curing_end`.

    Returns
    -------
    array (steps,)
        0 before placing. [-]
    """
    share = np.zeros(surface_temperature_c.size)
    after = slice(min(max(placed_step, 0), share.size), None)
    if isinstance(row, StrengthRow):
        share[after] = strength_fraction[after] / _wanted(row, mix)
        return share
    damp = _damp(surface_temperature_c, placed_step, credited)[after]
    pace = _pace(profile, row, mix, surface, surface_temperature_c[after]) * damp
    share[after] = np.cumsum(pace) * (step_min / 1440)
    return share


def curing_end(
    profile: Profile,
    mix: Mix,
    surface: Surface,
    *,
    step_min: int,
    placed_step: int,
    initial_set_h: float,
    surface_temperature_c: Floats,
    strength_fraction: Floats,
    credited: Flags | None = None,
) -> CuringEnd:
    """Find the step at which a surface has had the curing its profile asks for.

    Parameters
    ----------
    step_min : int
        Length of a step. [min]
    placed_step : int
        First step after placing; curing in the forms counts.
    initial_set_h : float
        From batching to initial set, at the temperatures it really had. [h]
    surface_temperature_c : array (steps,)
        Before placing anything, NaN too. [°C]
    strength_fraction : array (steps,)
        Strength as a share of the specified strength. A share of the mean strength
        may be given instead and errs on the long side. [-]
    credited : array of bool (steps,), optional
        Steps in which the surface was kept damp; all, where that is not known.

    Returns
    -------
    CuringEnd
        Step ``i`` means the instant ``grid.at(i)``; it may be one past the last step.

    Notes
    -----
    Where a rule gives days by temperature, each step earns its length over the days
    asked for at its own temperature, and curing ends when the shares add up to one.
    Rules that fix a mean temperature are met exactly when it is steady.
    """
    rows = criteria_for(profile, mix, surface)
    if not rows:
        return CuringEnd(None, f"{profile.title} gives no period for this surface")
    steps = surface_temperature_c.size

    def reached(row: Criterion) -> int | None:
        share = earned_fraction(
            profile, row, mix, surface, step_min=step_min, placed_step=placed_step,
            surface_temperature_c=surface_temperature_c,
            strength_fraction=strength_fraction, credited=credited,
        )  # fmt: skip
        done = np.flatnonzero(share >= 1 - _ROUNDING)
        return int(done[0]) + 1 if done.size else None

    found = [(reached(row), row) for row in rows]
    beyond = steps + 1  # later than any step, so that the unreached sort last
    if profile.combine == "all":
        step, row = max(found, key=lambda pair: pair[0] or beyond)
    else:
        step, row = min(found, key=lambda pair: pair[0] or beyond)
    words = criterion_words(row, mix)
    if profile.minimum_h:
        hours = credited_h(
            profile, mix, surface, step_min=step_min, placed_step=placed_step,
            surface_temperature_c=surface_temperature_c, credited=credited,
        )  # fmt: skip
        least = int(np.searchsorted(hours, profile.minimum_h - _ROUNDING)) + 1
        if step is not None and least > step:
            step, words = least, f"{profile.minimum_h:g} h at least ({profile.edition})"
    late_h = round(initial_set_h - (profile.set_beyond_h or np.inf), 1)
    if step is not None and late_h > 0:
        step += ceil(late_h * 60 / step_min)
        words += f", and {late_h:g} h for late setting"
    if step is None or step > steps:
        return CuringEnd(None, f"{words}: not reached in the time that is known")
    return CuringEnd(step, words)


def _wanted(row: StrengthRow, mix: Mix) -> float:
    """Share of the specified strength that a row asks for."""
    if row.strength_fraction is not None:
        return row.strength_fraction
    return (row.strength_mpa or 0) / mix.strength_mpa


def criterion_words(row: Criterion, mix: Mix) -> str:
    """Say a criterion as people on a site do, with its clause."""
    if isinstance(row, DaysRow):
        text = f"{row.days:g} day{'' if row.days == 1 else 's'}"
        if row.at_or_above_c is not None:
            text += f" at {row.at_or_above_c:g} °C or more"
    elif isinstance(row, TableRow):
        assumed = "" if mix.strength_ratio_fraction else "assumed "
        text = f"days by temperature at {assumed}strength ratio {_ratio(mix):g}"
    elif isinstance(row, DegreeDaysRow):
        text = f"{row.degree_days:g} °C days above {row.datum_c:g} °C"
    elif row.strength_fraction is not None:
        percent = f"{100 * row.strength_fraction:.0f} %"
        text = f"{percent} of the specified strength, as modelled"
    else:
        text = f"{row.strength_mpa:g} MPa, as modelled"
    return f"{text} ({row.clause})" if row.clause else text
