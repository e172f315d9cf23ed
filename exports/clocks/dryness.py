"""The lower plot: what the cover loses hour by hour, dry stretches, wettings."""

from collections.abc import Sequence
from datetime import datetime
from math import inf

from exports.axis import Axis
from exports.clocks.frame import (
    LOSS_BOTTOM_PX,
    LOSS_TOP_PX,
    RIGHT_PX,
    Text,
    x_of_minute,
    x_px,
)
from exports.clocks.lines import step_path
from exports.clocks.scale import Scale, scale
from exports.why import why
from models.local_clock import LocalClock
from models.quantities import Measure, Units, duration, measure
from models.records import (
    DryingHistory,
    Floats,
    Gap,
    Grid,
    Phase,
    PhaseKind,
    Record,
    Spread,
    SurfaceTrace,
)

#: The scale spans at least this, so that a sheet's small loss looks small. [L/(m² h)]
_LEAST_SPAN_L_M2_H = 0.2
#: Under a cover that loses water.
COVERED = ("covered", "ponded")
_BARE = ("fresh", "fogged", "exposed")
#: Stretches without a loss to draw, and why.
_QUIET: dict[PhaseKind, str] = {
    "sealed": "sealed",
    "steamed": "in steam",
    "insulated": "under blankets",
    "automatic": "water on a timer",
    "done": "curing over",
}


class Band(Record):
    """A stretch of time with words for it; ``fits`` if it is wide enough for them."""

    x: float
    width: float
    words: str
    label: str = ""
    fits: bool = False


class DryingPlot(Record):
    """What is drawn in the lower plot.

    Attributes
    ----------
    cover : tuple of str
        Paths of stepped areas, one a covered stretch.
    spread : tuple of str
        The same by the clocks of another forecast, to be outlined.
    model : tuple of str
        Bands from late to early, by formulas and covers that are off.
    bare : tuple of str
        The same for evaporation from the bare surface.
    over : tuple of Text
        How high bare stretches reach that are cut at the top of the scale.
    rain : tuple of Band
        Rain that fills the cover while it is on.
    """

    scale: Scale
    unit: str
    cover: tuple[str, ...]
    spread: tuple[str, ...]
    model: tuple[str, ...]
    bare: tuple[str, ...]
    over: tuple[Text, ...]
    rain: tuple[Band, ...]
    quiet: tuple[Band, ...]
    dry: tuple[Band, ...]
    wetted_px: tuple[float, ...]


Step = tuple[float, float, float]


def drying_of(
    drying: DryingHistory,
    trace: SurfaceTrace,
    gaps: tuple[Gap, ...],
    axis: Axis,
    clock: LocalClock,
    units: Units,
    spread: Spread | None = None,
) -> DryingPlot:
    """Draw the drying clock of a surface as its week went.

    Parameters
    ----------
    drying : DryingHistory
        The clock; the cover's loss is drawn while the cover is on, the bare surface's
        evaporation before.
    trace : SurfaceTrace
        The audit's record of the surface.
    gaps : tuple of Gap
        Its dry stretches.
    axis, clock, units
        Of the site.
    spread : Spread or None
        Clocks whose loss of the cover is drawn over it.
    """
    rates, column = measure("loss", units), drying.surface_ids.index(trace.surface_id)
    under = [p for p in trace.phases if p.kind in COVERED]
    covered = _runs(drying.grid, drying.cover_loss_l_m2_h[:, column], axis,
                    under)  # fmt: skip
    bare = _runs(drying.grid, drying.fresh_rate_kg_m2_h[:, column], axis,
                 [p for p in trace.phases if p.kind in _BARE])  # fmt: skip

    def sides(clocks: Sequence[DryingHistory]) -> list[list[list[Step]]]:
        return [
            _runs(one.grid, one.cover_loss_l_m2_h[:, column], axis, under)
            for one in clocks
        ]

    spread = spread or Spread()
    forecast, model = sides(spread.forecast), sides(spread.model)
    wide = [run for side in (*forecast, *model) for run in side]
    # The cover's loss sets the scale: a bare hour at noon loses ten times what a sheet
    # does in a day, and would flatten it. What stands out above is cut and said.
    most = max(
        (loss for run in [*covered, *wide] or bare for _, _, loss in run), default=0.0
    )
    heights = scale(
        0, rates.shown(max(0.0, most)), rates.shown(_LEAST_SPAN_L_M2_H),
        LOSS_TOP_PX, LOSS_BOTTOM_PX,
    )  # fmt: skip

    def area(run: list[Step]) -> str:
        pixels = (
            (x_of_minute(axis, a), x_of_minute(axis, b), heights.y(rates.shown(loss)))
            for a, b, loss in run
        )
        return step_path(pixels, LOSS_BOTTOM_PX)

    return DryingPlot(
        scale=heights,
        unit=rates.unit,
        cover=tuple(area(run) for run in covered),
        spread=tuple(area(run) for side in forecast for run in side),
        model=tuple(
            "".join(area(run) for run in both) for both in zip(*model, strict=True)
        ),
        bare=tuple(area(run) for run in bare),
        over=tuple(
            cut for run in bare if (cut := _cut(run, heights, rates, axis))
        ),
        rain=tuple(band for run in covered for band in _rain(run, axis)),
        quiet=tuple(
            _band(p.starts_at, p.ends_at, f"{_QUIET[p.kind]}, "
                  f"{clock.span(p.starts_at, p.ends_at)}", _QUIET[p.kind], axis)
            for p in trace.phases if p.kind in _QUIET
        ),
        dry=tuple(
            _band(gap.starts_at, gap.ends_at, _dry_words(gap, clock), "dry", axis)
            for gap in gaps
        ),
        wetted_px=tuple(x_px(axis, at) for at in trace.wettings if axis.holds(at)),
    )  # fmt: skip


def _dry_words(gap: Gap, clock: LocalClock) -> str:
    span = clock.span(gap.starts_at, gap.ends_at)
    return f"{span}, {duration(gap.minutes)}: {why(gap, clock)}"


def _runs(
    grid: Grid, values: Floats, axis: Axis, phases: list[Phase]
) -> list[list[Step]]:
    """Cut a clock's steps to the stretches in which they count; one run a stretch."""
    runs: list[list[Step]] = []
    until = -inf
    for phase in phases:
        from_min, until_min = axis.minute(phase.starts_at), axis.minute(phase.ends_at)
        run = _steps(grid, values, axis, from_min, until_min)
        if run and runs and from_min == until:
            runs[-1].extend(run)
        elif run:
            runs.append(run)
        until = until_min
    return runs


def _steps(
    grid: Grid, values: Floats, axis: Axis, from_min: float, until_min: float
) -> list[Step]:
    """Cut steps out between two minutes: (from minute, until minute, value)."""
    offset_min = (grid.starts_at - axis.starts_at).total_seconds() / 60
    first = max(0, int((from_min - offset_min) // grid.step_min))
    cut = []
    for step in range(first, grid.steps):
        begins = offset_min + step * grid.step_min
        if begins >= until_min:
            break
        left, right = max(from_min, begins), min(until_min, begins + grid.step_min)
        if left < right:
            cut.append((left, right, float(values[step])))
    return cut


def _cut(run: list[Step], heights: Scale, rates: Measure, axis: Axis) -> Text | None:
    """Say how high a run reaches if the scale ends below it."""
    most = rates.shown(max(loss for _, _, loss in run))
    if most <= heights.high:
        return None
    right = x_of_minute(axis, run[-1][1])
    return Text(x=min(right, RIGHT_PX - 60), words=f"↑ to {most:.{rates.digits}f}")


def _rain(run: list[Step], axis: Axis) -> list[Band]:
    """Stretches of a run in which the cover gains."""
    spans: list[list[float]] = []
    for left, right, loss in run:
        if loss >= 0:
            continue
        if spans and spans[-1][1] == left:
            spans[-1][1] = right
        else:
            spans.append([left, right])
    return [
        _minute_band(left, right, "rain fills the cover", "rain", axis)
        for left, right in spans
    ]


def _band(
    starts_at: datetime, ends_at: datetime, words: str, label: str, axis: Axis
) -> Band:
    return _minute_band(
        axis.minute(starts_at), axis.minute(ends_at), words, label, axis
    )


def _minute_band(
    left_min: float, right_min: float, words: str, label: str, axis: Axis
) -> Band:
    left = x_of_minute(axis, left_min)
    width = round(x_of_minute(axis, right_min) - left, 1)
    return Band(
        x=left, width=width, words=words, label=label,
        fits=width > 6.9 * len(label) + 6,
    )  # fmt: skip
