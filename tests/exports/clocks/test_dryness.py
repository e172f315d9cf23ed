"""The lower plot: areas, dry stretches, wettings, rain."""

from dataclasses import replace

import numpy as np
import pytest

from exports.axis import Axis
from exports.clocks.dryness import DryingPlot, drying_of
from models.local_clock import LocalClock
from models.records import DryingHistory, Phase, PhaseKind, Spread
from tests.builders import MONDAY
from tests.exports.clocks.clocks_builders import drying
from tests.exports.exports_builders import horizon, small_report

AXIS, CLOCK = Axis(horizon(), "Europe/Berlin"), LocalClock("Europe/Berlin")
REPORT = small_report()


def drawn(surface_id: str, history: DryingHistory | None = None) -> DryingPlot:
    trace = next(t for t in REPORT.surfaces if t.surface_id == surface_id)
    gaps = tuple(gap for gap in REPORT.gaps if gap.surface_id == surface_id)
    return drying_of(history or drying(), trace, gaps, AXIS, CLOCK, "si")


def px(minute: float) -> float:
    """The plot is 1004 px from 64 on for 2160 minutes."""
    return 64 + 1004 * minute / 2160


def test_cover_is_drawn_from_its_laying_on() -> None:
    # Covered from minute 480; 0.05 of 0.2 L/(m² h) is a quarter of 88 px: 326 − 22.
    assert drawn("P1-top").cover == ("M287.1,326V304H1068V326Z",)
    assert px(480) == pytest.approx(287.1, abs=0.05)


def test_early_and_late_clocks_outline_the_cover_and_set_the_scale() -> None:
    trace = next(t for t in REPORT.surfaces if t.surface_id == "P1-top")
    sides = tuple(
        replace(drying(), cover_loss_l_m2_h=share * drying().cover_loss_l_m2_h)
        for share in (6, 0.4)
    )
    made = drying_of(drying(), trace, (), AXIS, CLOCK, "si", Spread(forecast=sides))
    # 0.05 times 6 and 0.4: 0.3 is the whole of 88 px, 0.02 a fifteenth: 326 − 5.9.
    assert made.scale.high == pytest.approx(0.3)
    assert made.spread == ("M287.1,326V238H1068V326Z", "M287.1,326V320.1H1068V326Z")
    assert drawn("P1-top").spread == ()
    # What the model may be off by is one shape: even-odd, so the band between the two.
    model = drying_of(drying(), trace, (), AXIS, CLOCK, "si", Spread(model=sides))
    assert model.spread == ()
    assert model.model == ("".join(made.spread),)


def test_bare_stretches_that_meet_are_one_area_cut_at_the_covers_scale() -> None:
    made = drawn("P1-top")
    # Fresh, exposed and fogged from 300 to 480; 0.3 is above the scale's 0.2.
    assert made.bare == ("M203.4,326V238H287.1V326Z",)
    assert [text.words for text in made.over] == ["↑ to 0.30"]


def test_without_a_cover_the_bare_surface_sets_the_scale() -> None:
    made = drawn("P3-wall")
    assert (made.cover, made.over) == ((), ())
    assert made.scale.high == pytest.approx(0.3)
    assert [band.label for band in made.quiet] == ["sealed"]


def test_dry_stretch_is_as_wide_as_it_lasts() -> None:
    (dry,) = drawn("P2-top").dry
    # Minutes 830 to 990.
    assert dry.x == pytest.approx(px(830), abs=0.051)
    assert dry.width == pytest.approx(1004 * 160 / 2160, abs=0.11)
    assert dry.words == (
        "Mon 3 May 19:50–22:30 CEST, 2 h 40 min: Mon 19:50–22:00: nobody until the "
        "night pair; Mon 22:00–22:30: the night pair walks half an hour"
    )
    assert dry.fits


def test_label_goes_where_a_stretch_is_too_short_for_it() -> None:
    # 30 minutes are 14 px; "dry" needs more.
    (dry,) = drawn("P1-top").dry
    assert not dry.fits


def test_wettings_are_ticks_at_their_instants() -> None:
    # P2 is rewetted at minutes 350, 1010, 1420 and 1880.
    assert drawn("P2-top").wetted_px == pytest.approx(
        [px(350), px(1010), px(1420), px(1880)], abs=0.051
    )


def test_rain_is_a_band_of_its_own_and_no_loss() -> None:
    history = drying()
    loss = history.cover_loss_l_m2_h.copy()
    loss[12 + 60 : 12 + 66, 1] = -2.0  # the eleventh hour of the week
    made = drawn("P2-top", replace(history, cover_loss_l_m2_h=loss))
    (rain,) = made.rain
    assert rain.x == pytest.approx(px(600), abs=0.051)
    assert rain.width == pytest.approx(1004 * 60 / 2160, abs=0.11)
    # Down to the base in that hour and back: 0.1 of 0.2 is half of 88 px.
    assert made.cover == ("M64,326V282H342.9V326H370.8V282H1068V326Z",)


def test_phase_that_begins_within_a_step_is_cut_there() -> None:
    trace = REPORT.surfaces[0]
    phase = Phase(
        kind="covered", starts_at=horizon().at(483), ends_at=horizon().at(497)
    )
    history = drying()
    loss = np.where(np.arange(len(history.cover_loss_l_m2_h)) < 12 + 49, 0.1, 0.2)
    history = replace(history, cover_loss_l_m2_h=np.tile(loss[:, None], 3))
    made = drying_of(
        history, trace.model_copy(update={"phases": (phase,)}), (), AXIS, CLOCK, "si"
    )
    # 483 to 490 at 0.1, 490 to 497 at 0.2: x = 288.5, 291.8 and 295.0.
    assert made.cover == ("M288.5,326V282H291.8V238H295V326Z",)


def test_week_starts_where_the_fixture_says() -> None:
    assert horizon().starts_at == MONDAY


@pytest.mark.parametrize(
    ("kind", "words"),
    [
        ("automatic", "water on a timer"),
        ("insulated", "under blankets"),
        ("steamed", "in steam"),
    ],
)
def test_stretch_without_a_loss_says_why(kind: PhaseKind, words: str) -> None:
    trace = next(t for t in REPORT.surfaces if t.surface_id == "P3-wall")
    phases = tuple(
        phase.model_copy(update={"kind": kind}) if phase.kind == "sealed" else phase
        for phase in trace.phases
    )
    changed = trace.model_copy(update={"phases": phases})
    made = drying_of(drying(), changed, (), AXIS, CLOCK, "si")
    assert [band.label for band in made.quiet] == [words]
