"""How much of the time since placing counts as curing, step by step."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

import numpy as np

from models.hydration.course import step_from
from models.hydration.events import initial_set_h
from models.profiles.period import (
    CuringEnd,
    credited_h,
    criteria_for,
    criterion_words,
    curing_end,
    earned_fraction,
)
from models.records import Criterion, Flags, Floats, Gap, Grid
from scheduler.audit.checks.credited import damp_steps, dry_before
from scheduler.audit.replayed.loss import cover_loss_l_m2_h
from scheduler.recorded.played import Week

_ROUNDING = 1e-9


@dataclass(frozen=True)
class Earned:
    """One criterion of the end of curing, and how much of it is met."""

    row: Criterion
    words: str
    fraction: float
    is_met: bool


@dataclass(frozen=True)
class Credit:
    """Curing of a surface up to an instant.

    Attributes
    ----------
    credited_min, elapsed_min : int
        What counts from the end of placing to that of curing, or to the instant, and
        all that passed. [min]
    criteria : tuple of Earned
        Those that hold for the surface.
    end, damp_end : CuringEnd
        When curing may end as it was, and had the surface been damp all the time.
    ends_at, damp_ends_at : datetime or None
        The same as instants; None beyond the weather that is known.
    """

    credited_min: int
    elapsed_min: int
    criteria: tuple[Earned, ...]
    end: CuringEnd
    damp_end: CuringEnd
    ends_at: datetime | None
    damp_ends_at: datetime | None

    @property
    def added_min(self) -> int | None:
        """Minutes that dry time puts the end off; None where it is not known."""
        if self.ends_at is None or self.damp_ends_at is None:
            return None
        return max(0, round((self.ends_at - self.damp_ends_at).total_seconds() / 60))


def credit_of(week: Week, surface_id: str, gaps: Iterable[Gap], at: datetime) -> Credit:
    """Count what a week has earned a surface up to an instant.

    Parameters
    ----------
    gaps : iterable of Gap
        When it was dry, by the clock or as somebody found it.
    """
    profile, mix = week.rule(surface_id)
    surface, column = week.surface(surface_id), week.column(surface_id)
    hydration = week.clocked.hydration
    grid, events = hydration.grid, week.events(surface_id)
    damp = _damp(week, surface_id, gaps)
    face_c = hydration.surface_temperature_c[:, column]
    strength = hydration.strength_fraction[:, column]
    placed_step = step_from(grid, surface.placing_ends_at)
    hours = credited_h(
        profile, mix, surface, step_min=grid.step_min, placed_step=placed_step,
        surface_temperature_c=face_c, credited=damp,
    )  # fmt: skip

    def end(credited: Flags | None) -> CuringEnd:
        return curing_end(
            profile, mix, surface, step_min=grid.step_min, placed_step=placed_step,
            initial_set_h=initial_set_h(surface, events.initial_set),
            surface_temperature_c=face_c, strength_fraction=strength,
            credited=credited,
        )  # fmt: skip

    def earned(row: Criterion) -> Earned:
        share = earned_fraction(
            profile, row, mix, surface, step_min=grid.step_min,
            placed_step=placed_step, surface_temperature_c=face_c,
            strength_fraction=strength, credited=damp,
        )  # fmt: skip
        fraction = _by(share, steps)
        words = criterion_words(row, mix)
        return Earned(row, words, fraction, fraction >= 1 - _ROUNDING)

    so_far, undried = end(damp), end(None)
    ends_at = _at(so_far, grid)
    until = at if ends_at is None else min(at, ends_at)
    steps = min(max(0, grid.step(until)), grid.steps)
    elapsed = until - surface.placing_ends_at
    return Credit(
        credited_min=round(60 * _by(hours, steps)),
        elapsed_min=max(0, int(elapsed.total_seconds() // 60)),
        criteria=tuple(earned(row) for row in criteria_for(profile, mix, surface)),
        end=so_far,
        damp_end=undried,
        ends_at=ends_at,
        damp_ends_at=_at(undried, grid),
    )


def _damp(week: Week, surface_id: str, gaps: Iterable[Gap]) -> Flags:
    """Tell the steps of the clock without a dry minute in them."""
    clocked, column = week.clocked, week.column(surface_id)
    horizon, grid = clocked.site_input.horizon, clocked.hydration.grid
    loss = cover_loss_l_m2_h(clocked.surfaces, clocked.around, clocked.hydration)
    grace = timedelta(minutes=clocked.site_input.site.rules.uncovered_grace_min)
    minutes = [
        *dry_before(
            clocked.surfaces[column], clocked.hydration.events[column], grace,
            loss[:, column], grid, horizon,
        )
    ]  # fmt: skip
    for gap in gaps:
        minutes += range(horizon.minute(gap.starts_at), horizon.minute(gap.ends_at))
    if not minutes:
        return np.ones(grid.steps, bool)
    return damp_steps(minutes, grid, horizon)


def _by(sums: Floats, steps: int) -> float:
    """Give a running sum at the end of so many steps."""
    return float(sums[steps - 1]) if steps > 0 else 0.0


def _at(end: CuringEnd, grid: Grid) -> datetime | None:
    return None if end.step is None else grid.at(end.step)
