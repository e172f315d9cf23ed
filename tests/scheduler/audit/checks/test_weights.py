"""End of curing and price of a dry minute against clock and price list."""

from models.local_clock import WeekClock
from models.records import Costs, Surface, SurfaceWork, WeightStep
from scheduler.audit.checks.weights import check_weights
from tests.builders import pour, surface
from tests.scheduler.audit.audit_builders import HORIZON, at, grid, hydration, work

CLOCK = WeekClock("Europe/Berlin", HORIZON)
#: Placed by 300: four times as dear until 1740, twice until 4620; any area alike.
COSTS = Costs(
    dry_cost_per_min=1, area_power=0,
    young_24h_factor=4, young_72h_factor=2, uncovered_factor=3,
)  # fmt: skip


def steps(*pairs: tuple[int, float]) -> tuple[WeightStep, ...]:
    return tuple(WeightStep(from_min=minute, per_min=price) for minute, price in pairs)


def risky() -> Surface:
    return surface(pour(risk=2))


def words(
    given: SurfaceWork, ends_min: int | None = 2000, costs: Costs = COSTS
) -> list[str]:
    ends_at = () if ends_min is None else (at(ends_min),)
    history = hydration(grid(), [risky()], ends_at=ends_at)
    found = check_weights([risky()], [given], history, costs, CLOCK)
    assert {finding.kind for finding in found} <= {"drying_clock"}
    return [finding.words for finding in found]


def priced(**fields: object) -> SurfaceWork:
    """2 of risk × 4 or 2 of age, bare three times that."""
    base: dict[str, object] = {
        "weights": steps((0, 8), (1740, 4)),
        "fresh_weights": steps((0, 24), (1740, 12)), "ends_min": 2000,
    }  # fmt: skip
    return work("P1-top", **(base | fields))


def test_true_terms_pass() -> None:
    assert words(priced()) == []


def test_a_price_that_forgets_the_area_is_found() -> None:
    # 300 m² weigh three times as much as 100 m².
    by_area = COSTS.model_copy(update={"area_power": 1.0})
    assert words(priced(), costs=by_area) == [
        "P1 top: a dry minute, covered, costs 24 Mon 11:00; the work says 8",
        "P1 top: a dry minute, bare, costs 72 Mon 11:00; the work says 24",
    ]
    big = priced(
        weights=steps((0, 24), (1740, 12)), fresh_weights=steps((0, 72), (1740, 36))
    )
    assert words(big, costs=by_area) == []


def test_a_slab_taken_for_old_a_minute_too_soon_is_found() -> None:
    early = priced(weights=steps((0, 8), (1739, 4)))
    assert words(early) == [
        "P1 top: a dry minute, covered, costs 8 Tue 10:59; the work says 4"
    ]


def test_a_bare_slab_at_the_price_of_a_covered_one_is_found() -> None:
    cheap = priced(fresh_weights=steps((0, 8), (1740, 4)))
    assert words(cheap) == [
        "P1 top: a dry minute, bare, costs 24 Mon 11:00; the work says 8"
    ]


def test_prices_before_exposure_and_after_curing_do_not_matter() -> None:
    odd = steps((0, 1), (300, 8), (1740, 4), (2000, 99))
    assert words(priced(weights=odd)) == []


def test_curing_that_ends_at_another_minute_is_found() -> None:
    assert words(priced(), ends_min=2001) == [
        "P1 top: its curing ends Tue 15:21; the work says Tue 15:20"
    ]


def test_curing_beyond_the_week_may_end_at_any_time_after_it() -> None:
    later = priced(ends_min=4320)
    assert words(later, ends_min=None) == []
    assert words(priced(ends_min=4319), ends_min=None) == [
        "P1 top: its curing goes on beyond Thu 06:00; the work ends it Thu 05:59"
    ]
