"""The pipeline: prepare, solve, audit."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from itertools import count
from pathlib import Path

from models.errors import InputError, OutOfRangeError
from models.files.published import read_published
from models.files.site_folder import SiteFiles, read_folder
from models.local_clock import WeekClock
from models.records import (
    AuditReport,
    Changes,
    Finding,
    FindingKind,
    Horizon,
    Roster,
    Tonight,
    WorkList,
)
from scheduler.audit.agreement import require_agreement
from scheduler.audit.checks.credited import credited_ends
from scheduler.audit.explained import explained
from scheduler.audit.published import changes_of
from scheduler.audit.replay import by_time, replay, temperature_findings
from scheduler.audit.replayed.loss import cover_loss_l_m2_h
from scheduler.audit.tonight import tonight as look_ahead
from scheduler.clocked import Clocked, clock, dry_side, ending
from scheduler.happened.carried import FromBefore, carried, week_of_issue
from scheduler.happened.handed_out import published_in
from scheduler.happened.lacking import strange_readings
from scheduler.happened.so_far import SoFar
from scheduler.methods.case.held import Held
from scheduler.methods.expand import dried_anew, expand, refusals
from scheduler.methods.surfaces import surfaces_of
from scheduler.methods.warnings.requirements import warnings_of
from scheduler.solver.why import why_dry

#: Told the name of each stage and how much of it is done, 0 to 1.
Listener = Callable[[str, float], None]

#: A cover that waits for curing is planned anew so often, then left on.
_MOST_WAITS = 2

#: What a warmer week than the forecast would hide; judged on the forecast itself.
_OF_COLD: tuple[FindingKind, ...] = ("temperature", "cold_water")


@dataclass(frozen=True)
class PlanOptions:
    """How a week is planned; by default the same folder gives the same roster.

    Attributes
    ----------
    seconds : float or None
        Wall-clock limit of the search; None for a fixed amount of work, which gives
        the same roster on every machine. [s]
    seed : int
        Of the search.
    on_dry_side : bool
        Plan on the dry side of the forecast, see :func:`dry_side`.
    near : Path or None
        A published roster to stay near: each visit that it changes has a price.
    single_process : bool
        Start no second process, where this one is one of many; the roster is the same.
    database : str
        Where many sites are planned: connection string of the firm's database of
        ledgers; "" for a file in each folder.
    """

    seconds: float | None = None
    seed: int = 1
    on_dry_side: bool = False
    near: Path | None = None
    single_process: bool = False
    database: str = ""


BY_DEFAULT = PlanOptions()


@dataclass(frozen=True)
class Plan:
    """Everything of a planned week.

    ``changes`` says what became of a published roster, if it was to stay near one;
    ``from_before`` which pours were curing still when the week began and the folder
    leaves to the ledger.
    """

    clocked: Clocked
    work: WorkList
    warnings: tuple[Finding, ...]
    roster: Roster
    report: AuditReport
    changes: Changes | None
    from_before: FromBefore | None = None


def audit(
    clocked: Clocked, roster: Roster, changes: Changes | None = None
) -> AuditReport:
    """Play a roster through on the clocks of today's folder."""
    return replay(
        clocked.site_input,
        clocked.surfaces,
        clocked.around,
        clocked.hydration,
        roster,
        changes,
    )


def as_published(files: SiteFiles, so_far: SoFar) -> tuple[Clocked, Roster]:
    """Give the newest issue and the clocks of its week, as both are known by now.

    Of pours that were cancelled since, neither has anything.

    Raises
    ------
    InputError
        With every problem of the folder, and of what it lacks for that week.
    """
    site_input, issue = so_far.facts(week_of_issue(so_far, files)), so_far.issue
    asked = {work.surface_id for work in issue.surfaces}
    surfaces = tuple(one for one in surfaces_of(site_input) if one.id in asked)
    expected = so_far.with_finds(clock(site_input, surfaces))
    there = {surface.id for surface in surfaces}
    roster = issue.model_copy(
        update={
            "surfaces": tuple(w for w in issue.surfaces if w.surface_id in there),
            "visits": tuple(v for v in issue.visits if v.surface_id in there),
        }
    )
    return expected, roster


def tonight(
    expected: Clocked, roster: Roster, now: datetime, *, on_dry_side: bool = False
) -> Tonight:
    """Show the night after an instant, with a roster as today's folder plays it.

    Its gaps are those of the audit, told by the explainer that told the roster's own.

    Parameters
    ----------
    expected : Clocked
        Today's folder on the forecast itself.
    roster : Roster
        The published one.
    now : datetime
        The instant.
    on_dry_side : bool
        Play it on the dry side of the forecast; cold is judged on the forecast.

    Raises
    ------
    OutOfRangeError
        If the roster does not reach over ``now``.
    """
    clocked = dry_side(expected) if on_dry_side else expected
    report = audit(clocked, roster)
    if on_dry_side:
        report = _beside(report, audit(expected, roster))
    night = look_ahead(clocked.site_input, roster, report, now)
    work = dried_anew(
        clocked.site_input.model_copy(update={"horizon": roster.horizon}),
        clocked.surfaces,
        clocked.hydration,
        clocked.drying,
        roster.surfaces,
    )
    gaps = why_dry(work, roster.visits, night.gaps, now)
    return night.model_copy(update={"gaps": gaps})


@dataclass(frozen=True)
class Prepared:
    """All that is known of a week before it is solved.

    ``expected`` is on the forecast itself, ``clocked`` on the side that is planned on;
    ``ends_at`` are the ends of curing, by surface, that dry time is known to put off.
    ``so_far`` is what has happened of the published roster, where part of it has, and
    ``from_before`` what the ledger added to the folder's pours.
    """

    expected: Clocked
    clocked: Clocked
    ends_at: Mapping[str, datetime]
    work: WorkList
    published: Roster | None
    so_far: SoFar | None = None
    from_before: FromBefore | None = None

    def expanded(self, ends_at: Mapping[str, datetime]) -> WorkList:
        """Work out all there is to do, with some ends of curing put off."""
        work = _expanded(self.clocked, self.expected.held, ends_at)
        return _near(work, self.published, self.so_far)


def _put_off(
    clocked: Clocked, horizon: Horizon, published: Roster | None
) -> dict[str, datetime]:
    """Give the ends of curing that are put off as far as is known before any roster.

    For dry time before the week; and whoever was told of a later end keeps it.
    """
    loss_l_m2_h = cover_loss_l_m2_h(clocked.surfaces, clocked.around, clocked.hydration)
    known = credited_ends(
        clocked.site_input, clocked.surfaces, loss_l_m2_h, clocked.hydration, horizon
    )
    ends_at = {surface_id: one.ends_at for surface_id, one in known.items()}
    told = (
        {}
        if published is None
        else {
            work.surface_id: published.horizon.at(work.ends_min)
            for work in published.surfaces
        }
    )
    for event in clocked.hydration.events:
        told_at = told.get(event.surface_id)
        if event.curing_ends is None or told_at is None:
            continue
        so_far = ends_at.get(event.surface_id, event.curing_ends.expected_at)
        if told_at > so_far:
            ends_at[event.surface_id] = told_at
    return ends_at


def _too_early(report: AuditReport) -> dict[str, datetime]:
    """Give the later ends of curing of surfaces that a roster uncovers before them."""
    early = {one.surface_id for one in report.findings if one.kind == "uncured"}
    return {
        surface_id: ends_at
        for surface_id, ends_at in _credited(report).items()
        if surface_id in early
    }


def _credited(report: AuditReport) -> dict[str, datetime]:
    """Give the ends of curing that dry time puts off, by surface."""
    return {
        one.surface_id: one.ends_at
        for one in report.findings
        if one.kind == "uncredited" and one.surface_id is not None
    }


def prepare(
    files: SiteFiles,
    options: PlanOptions = BY_DEFAULT,
    listener: Listener = lambda _name, _done: None,
    so_far: SoFar | None = None,
) -> Prepared:
    """Work out a week from a folder that was read, or refuse it.

    The one place that refuses a folder, so that a check and a plan say the same.

    Parameters
    ----------
    so_far : SoFar or None
        What has happened of a published week, which the plan then takes up and stays
        near, whatever ``options.near`` names. Of an earlier week it adds the pours that
        are curing still and their weather.

    Raises
    ------
    InputError
        With every problem of the folder, of what its pours ask for, and of the
        published roster.
    """
    problems, site_input = files.problems, files.site_input
    if site_input is None:
        problems.raise_if_any()
    # Had no pour been read, a problem would have been raised.
    assert site_input
    published, from_before, stand_ins = None, None, files.stand_ins
    if so_far is not None:
        published = so_far.issue
        before = carried(so_far, files, site_input)
        problems.keep(*before.problems)
        site_input, stand_ins = so_far.facts(before.site_input), before.stand_ins
        from_before = before.from_before
        problems.keep(*strange_readings(so_far, files))
    else:
        problems.keep(*(stray.problem for stray in files.strays))
        if files.late is not None:
            problems.keep(files.late.problem)
    if so_far is None and options.near is not None and "head" not in stand_ins:
        try:
            published = read_published(options.near, site_input)
        except InputError as error:
            problems.keep(*error.problems)
    listener("Computing temperature and drying", 0)
    try:
        expected = clock(site_input, surfaces_of(site_input))
        if so_far is not None:
            expected = so_far.with_finds(expected)
        clocked = dry_side(expected) if options.on_dry_side else expected
        listener("Working out what is due", 0)
        asked = site_input, clocked.surfaces, clocked.hydration, clocked.drying
        if problems.in_order():
            against = refusals(*asked, stand_ins)
            problems.keep(*[one for one in against if not problems.at(one.place)])
            problems.raise_if_any()
        ends_at = _put_off(clocked, site_input.horizon, published)
        if options.on_dry_side:  # warm, lost days are earned sooner: not counted on
            for name, at in _put_off(expected, site_input.horizon, published).items():
                ends_at[name] = max(at, ends_at.get(name, at))
        work = _expanded(clocked, expected.held, ends_at)
    except OutOfRangeError:
        problems.raise_if_any()
        raise
    work = _near(work, published, so_far)
    return Prepared(expected, clocked, ends_at, work, published, so_far, from_before)


def _expanded(
    clocked: Clocked, held: Mapping[str, Held], ends_at: Mapping[str, datetime]
) -> WorkList:
    """Work out all there is to do, with some ends of curing put off."""
    now = ending(clocked, ends_at)
    return expand(now.site_input, now.surfaces, now.hydration, now.drying, held)


def _near(work: WorkList, published: Roster | None, so_far: SoFar | None) -> WorkList:
    """Tell a work list of the published roster, and of what has happened of it."""
    if so_far is not None:
        return so_far.of(work)
    if published is None:
        return work
    told = published_in(work.horizon, published)
    return work.model_copy(update={"published": told})


def foreseen(prepared: Prepared) -> tuple[Finding, ...]:
    """Give the temperatures outside their limits that are known before a roster is."""
    expected, work = prepared.expected, prepared.work
    works = {each.surface_id: each for each in work.surfaces}
    found = temperature_findings(
        expected.site_input,
        expected.surfaces,
        [works[surface.id] for surface in expected.surfaces],
        expected.around,
        expected.hydration,
        WeekClock(expected.site_input.site.timezone, work.horizon),
    )
    return tuple(sorted(found, key=by_time))


def plan(
    folder: Path,
    options: PlanOptions = BY_DEFAULT,
    listener: Listener = lambda _name, _done: None,
) -> Plan:
    """Plan a site folder's week.

    Parameters
    ----------
    folder : Path
        The site folder.
    options : PlanOptions
        How to plan it.
    listener : callable
        Told what is going on.

    Raises
    ------
    InputError
        With every problem of the folder, or of the published roster.
    ContradictionError
        If the audit does not find what the solver claims.
    """
    prepared = prepare(read_folder(folder), options, listener)
    return solved(prepared, options, listener)


def solved(
    prepared: Prepared,
    options: PlanOptions = BY_DEFAULT,
    listener: Listener = lambda _name, _done: None,
) -> Plan:
    """Solve a week that was prepared with the same options, and audit it."""
    # ortools takes half a second to import; only planning pays for it.
    from scheduler.solver.solve import Effort, solve

    clocked, work = prepared.clocked, prepared.work
    ends_at, begun = dict(prepared.ends_at), None
    for number in count(1):
        listener("Assigning crews and water", 0)
        roster = solve(
            work,
            effort=Effort()
            if options.seconds is None
            else Effort(seconds=options.seconds),
            seed=options.seed,
            alone=options.single_process,
            begun=begun,
            progress=lambda done, _cost: listener("Assigning crews and water", done),
        )
        listener("Auditing the roster", 0)
        if options.on_dry_side:
            roster = roster.model_copy(update={"forecast_side": "dry"})
        changes, report = _held(prepared, roster)
        later = _too_early(report)
        if not later:
            break
        # Nothing comes off before curing is over: it waits, at last beyond this plan.
        if number > _MOST_WAITS:
            last_at = clocked.hydration.grid.at(clocked.hydration.grid.steps)
            later = dict.fromkeys(later, last_at)
        ends_at |= later
        work = prepared.expanded(ends_at)
        begun = roster
    made = _made(prepared, roster, ends_at, changes, report)
    listener("Auditing the roster", 1)
    return made


def judged(prepared: Prepared, roster: Roster) -> Plan:
    """Give all there is to say of a roster that was made of this prepared week.

    Raises
    ------
    ContradictionError
        If the audit does not find what the roster claims.
    """
    told = _put_off(prepared.clocked, roster.horizon, roster)
    return _made(
        prepared, roster, {**prepared.ends_at, **told}, *_held(prepared, roster)
    )


def _held(prepared: Prepared, roster: Roster) -> tuple[Changes | None, AuditReport]:
    """Hold a roster against the published one, if there is one, and audit it."""
    published, changes = prepared.published, None
    if published is not None and _overlap(published.horizon, roster.horizon):
        beyond_min = prepared.expected.site_input.site.costs.change_beyond_min
        changes = changes_of(published, roster, beyond_min)
    return changes, audit(prepared.clocked, roster, changes)


def _overlap(one: Horizon, other: Horizon) -> bool:
    return one.starts_at < other.ends_at and other.starts_at < one.ends_at


def _made(
    prepared: Prepared,
    roster: Roster,
    ends_at: Mapping[str, datetime],
    changes: Changes | None,
    report: AuditReport,
) -> Plan:
    """Put together what is known of a roster, if the audit confirms it."""
    expected = prepared.expected
    require_agreement(roster, report)
    report = explained(report, roster, roster.gaps, roster.missed)
    if roster.forecast_side == "dry":
        report = _beside(report, audit(expected, roster))
    warnings = warnings_of(
        expected.site_input,
        expected.surfaces,
        expected.hydration,
        expected.drying,
        expected.held,
    )
    ends = ending(prepared.clocked, {**ends_at, **_credited(report)})
    return Plan(
        ends, prepared.work, warnings, roster, report, changes, prepared.from_before
    )


def _beside(report: AuditReport, on_forecast: AuditReport) -> AuditReport:
    """Add to an audit on the dry side what the forecast itself would bring."""
    findings = [f for f in report.findings if f.kind not in _OF_COLD]
    findings += [f for f in on_forecast.findings if f.kind in _OF_COLD]
    return report.model_copy(
        update={
            "findings": tuple(sorted(findings, key=lambda f: (f.starts_at, f.kind))),
            "forecast_dry_min": on_forecast.dry_min,
        }
    )
