"""An estimate is a real roster of one surface: the audit finds in it what it claims."""

from collections import Counter
from datetime import timedelta

import pytest

from models.errors import InputError
from models.records import AuditReport, Roster, SiteInput, SurfaceWork, Visit
from scheduler.advice.flow import work_of
from scheduler.advice.versions import versions_of
from scheduler.audit.replay import replay
from scheduler.clocked import clock
from scheduler.estimates.estimate import Estimate, estimate
from scheduler.methods.case.cases import cases_of
from scheduler.methods.surfaces import surfaces_of
from tests.builders import MONDAY, pour, site_input, weather, work_for_nothing
from tests.scheduler.advice.flow_builders import wall
from tests.scheduler.methods.methods_builders import USABLE


def visits_of(found: Estimate, work: SurfaceWork) -> tuple[Visit, ...]:
    horizon = site_input().horizon
    count: Counter[str] = Counter()
    visits = []
    for booking in found.bookings:
        task_id = booking.task.id
        count[task_id] += 1
        repeats = work.rewet is not None and task_id == work.rewet.id
        visits.append(
            Visit(
                id=f"{task_id}/{count[task_id]}" if repeats else task_id,
                task_id=task_id,
                surface_id=work.surface_id,
                crew_id=booking.shift.crew_id,
                shift_id=booking.shift.id,
                starts_at=horizon.at(booking.start_min),
                ends_at=horizon.at(booking.end_min),
                water_point_id=booking.water_point_id,
            )
        )
    return tuple(visits)


def hot_site() -> SiteInput:
    """A hot, showery site that can do all there is, even steam and a pond."""
    asked = site_input(
        pour(then_method="sheet_over_burlap", then_after="2 d"),
        wall(id="P2"),
        pour(
            "P3", zone_id="B", area_m2=120, element="suspended_slab",
            shoring_checked=True, edge_area_m2=9, edge_method="plastic_sheet",
            edge_strike_at=MONDAY + timedelta(hours=26),
        ),
    )  # fmt: skip
    hours = weather(mean_c=27, wind_m_s=6).hours
    showers = tuple(
        hour.model_copy(update={"rain_mm": 0.8 if i % 31 in (5, 6) else 0.0})
        for i, hour in enumerate(hours)
    )
    skies = asked.weather.model_copy(update={"hours": showers})
    crews = tuple(
        crew.model_copy(update={"skills": (*crew.skills, "steam_operator")})
        for crew in asked.site.crews
    )
    # Litres of a timer weigh in the choice of a method, not in a roster.
    costs = work_for_nothing(worker_minute_cost=0.02)
    site = asked.site.model_copy(update={"crews": crews, "costs": costs})
    return asked.model_copy(update={"weather": skies, "site": site})


def audited(surface_id: str, method: str) -> tuple[Estimate, AuditReport] | None:
    """Estimate a surface under a method, with what follows it, and audit that."""
    asked = hot_site()
    own = next(s for s in surfaces_of(asked) if s.id == surface_id)
    tried = versions_of(asked, own).tried
    surface = next(of[-1] for of in tried if of[-1].method == method)
    run = clock(asked, (surface,))
    try:
        work = work_of(run, surface)
    except InputError:
        return None
    nights = cases_of(asked, run.hydration, run.drying).calendar.nights
    found = estimate(work, work.surfaces[0], nights)
    roster = Roster(
        site_name=work.site_name, timezone=work.timezone, horizon=work.horizon,
        surfaces=work.surfaces, visits=visits_of(found, work.surfaces[0]),
        objective=(), cost=0, seed=1, solver_words="",
    )  # fmt: skip
    return found, replay(asked, run.surfaces, run.around, run.hydration, roster)


@pytest.mark.parametrize("surface_id", ["P1-top", "P2-faces", "P3-top", "P3-edges"])
@pytest.mark.parametrize("method", USABLE)
def test_the_audit_agrees_with_an_estimate(surface_id: str, method: str) -> None:
    both = audited(surface_id, method)
    if both is None:
        return  # refused on that surface
    found, report = both
    assert report.violations == ()
    assert report.dry_min == found.dry_min
    parts = {part: report.cost_by_part.get(part, 0) for part in found.cost_by_part}
    assert parts == pytest.approx(found.cost_by_part, abs=0.01)
