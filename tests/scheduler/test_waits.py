"""A cover that dried out stays on until curing is over, dry time not counted."""

from datetime import datetime
from pathlib import Path

from models.files.reading.problems import ProblemCollector
from models.files.site_folder import SiteFiles
from models.records import Crew, Roster, ShiftPattern, SiteInput
from scheduler.clocked import clock
from scheduler.methods.expand import expand
from scheduler.methods.surfaces import surfaces_of
from scheduler.solver.solve import Effort, solve
from scheduler.workflow import BY_DEFAULT, Plan, PlanOptions, prepare, solved
from tests.builders import site
from tests.scheduler.audit.audit_builders import cured_after


def away_on_tuesday() -> SiteInput:
    """Burlap for two days from Monday 11:00; nobody is there Monday 18:00 to Wednesday.

    It dries that night and all of Tuesday, more than a day, so that curing is not over
    on Thursday morning.
    """
    given, where = cured_after(2), site()
    days = {"day": ("mon", "wed", "thu", "fri"), "night": ("wed", "thu", "fri")}
    shifts = tuple(
        ShiftPattern.model_validate(one.model_dump() | {"days": days[one.id]})
        for one in where.shifts
        if one.id in days
    )
    crews = tuple(
        Crew.model_validate(
            one.model_dump() | {"shifts": [s for s in one.shifts if s in days]}
        )
        for one in where.crews
    )
    only = {"crews": crews, "shifts": shifts}
    return given.model_copy(update={"site": where.model_copy(update=only)})


def planned(options: PlanOptions = BY_DEFAULT) -> Plan:
    files = SiteFiles(
        Path("away"), ProblemCollector(), (), away_on_tuesday(), frozenset()
    )
    return solved(prepare(files, options), options)


def uncovered_at(roster: Roster) -> list[datetime]:
    off = {
        task.id
        for work in roster.surfaces
        for task in work.tasks
        if task.facts.uncovers
    }
    return [visit.starts_at for visit in roster.visits if visit.task_id in off]


def test_a_cover_is_lifted_only_once_curing_is_over_dry_time_not_counted(
    tmp_path: Path,
) -> None:
    made = planned()
    (trace,) = made.report.surfaces
    (event,) = made.clocked.hydration.events
    off_at = min(uncovered_at(made.roster))
    assert trace.curing_ends_at is not None
    assert off_at >= trace.curing_ends_at
    # Nobody comes from Monday 18:00 to Wednesday 07:00, 37 h; the cover holds some.
    alone = clock(made.clocked.site_input, made.clocked.surfaces)
    planned_end = alone.hydration.events[0].curing_ends
    assert planned_end is not None
    assert (trace.curing_ends_at - planned_end.expected_at).total_seconds() > 24 * 3600
    assert event.curing_ends is not None
    assert event.curing_ends.expected_at == trace.curing_ends_at
    words = [f.words for f in made.report.findings if f.kind == "uncredited"]
    assert all(one.endswith("; its cover stays on until then") for one in words)
    assert len(words) == 1
    # Whoever is told of that and plans again is told nothing new.
    told = tmp_path / "roster.json"
    told.write_text(made.roster.model_dump_json(), "utf-8")
    again = planned(PlanOptions(near=told))
    assert again.changes is not None
    assert again.changes.total == 0
    assert again.roster.visits == made.roster.visits


def test_planned_as_if_always_damp_it_would_have_been_lifted_sooner() -> None:
    given = away_on_tuesday()
    run = clock(given, surfaces_of(given))
    work = expand(given, run.surfaces, run.hydration, run.drying)
    roster = solve(work, Effort(work=0.3))
    off_at = min(uncovered_at(roster))
    late_at = min(uncovered_at(planned().roster))
    assert off_at < late_at
