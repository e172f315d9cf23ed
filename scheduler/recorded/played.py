"""One pour's week played through: as an issue planned it, and as it was written down.

Only the pour itself is played: neither clock and no cover's water know of another one.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta

from models.errors import InputError, Place, Problem
from models.records import (
    PARTS,
    AuditReport,
    Entry,
    Gap,
    Horizon,
    LearnedCover,
    Mix,
    Pour,
    Profile,
    Roster,
    SiteInput,
    Surface,
    SurfaceEvents,
    SurfaceTrace,
    SurfaceWork,
    Task,
    Visit,
    Weather,
    WorkList,
)
from scheduler.clocked import Clocked, clock, ending
from scheduler.happened.begun import all_tasks
from scheduler.happened.handed_out import published_visit
from scheduler.happened.so_far import SoFar
from scheduler.happened.visits import SeenVisit
from scheduler.methods.expand import expand
from scheduler.methods.surfaces import surfaces_of
from scheduler.workflow import audit

#: Dry time puts the end off, and what is dry by then again: so often, then no more.
_MOST_TIMES = 6
#: Of these the whole site is told; all others are about one pour or surface.
_OF_THE_SITE = frozenset({"weather_observed", "water_out", "crew_out"})


@dataclass(frozen=True)
class Week:
    """A pour's week, simulated."""

    clocked: Clocked
    roster: Roster
    report: AuditReport

    def column(self, surface_id: str) -> int:
        """Where a surface stands in the arrays of the clocks."""
        return self.clocked.hydration.surface_ids.index(surface_id)

    def surface(self, surface_id: str) -> Surface:
        """Give the surface itself."""
        return self.clocked.surfaces[self.column(surface_id)]

    def events(self, surface_id: str) -> SurfaceEvents:
        """When the clock has it set, bear a cover, and cured."""
        return self.clocked.hydration.events[self.column(surface_id)]

    def trace(self, surface_id: str) -> SurfaceTrace:
        """Its phases and the water in its cover."""
        traces = self.report.surfaces
        return next(one for one in traces if one.surface_id == surface_id)

    def work(self, surface_id: str) -> SurfaceWork:
        """Give what is to be done on it."""
        works = self.roster.surfaces
        return next(one for one in works if one.surface_id == surface_id)

    def gaps(self, surface_id: str) -> tuple[Gap, ...]:
        """When it was dry."""
        return tuple(g for g in self.report.gaps if g.surface_id == surface_id)

    def rule(self, surface_id: str) -> tuple[Profile, Mix]:
        """Give what it is held against, and its concrete."""
        site_input, surface = self.clocked.site_input, self.surface(surface_id)
        mixes = {mix.id: mix for mix in site_input.site.mixes}
        return site_input.profiles[surface.profile_id], mixes[surface.mix_id]


def surface_ids(pour: Pour) -> tuple[str, ...]:
    """Ids that surfaces of a pour may have."""
    return tuple(f"{pour.id}-{part}" for part in PARTS.values())


def of_pour(roster: Roster, pour: Pour) -> Roster:
    """Cut a roster down to one pour."""
    own = surface_ids(pour)
    return roster.model_copy(
        update={
            "surfaces": tuple(w for w in roster.surfaces if w.surface_id in own),
            "visits": tuple(v for v in roster.visits if v.surface_id in own),
        }
    )


def about_pour(entries: Iterable[Entry], pour: Pour) -> tuple[Entry, ...]:
    """Give the entries that a pour's surfaces have to do with."""
    own = {pour.id, *surface_ids(pour)}
    return tuple(e for e in entries if e.about in own or e.kind in _OF_THE_SITE)


def one_pour(
    site_input: SiteInput, pour: Pour, roster: Roster, weather: Weather, at: datetime
) -> SiteInput:
    """Cut a site down to one pour, in the week of a roster and its weather.

    The week goes on to ``at`` where the weather does, so that what people did after
    the plan had ended counts too.
    """
    known_until = weather.hours[-1].at + timedelta(hours=1)
    until = min(at + timedelta(minutes=1), known_until)
    until -= timedelta(seconds=until.second, microseconds=until.microsecond)
    starts_at, ends_at = roster.horizon.starts_at, roster.horizon.ends_at
    own = surface_ids(pour)
    if pour.placing_starts_at >= starts_at:
        # Reported for a later week: in this one its cover is a visit like others.
        pour = pour.model_copy(update={"covered_at": None, "wetted_at": None})
    return site_input.model_copy(
        update={
            "pours": (pour,),
            "weather": weather,
            "horizon": Horizon(starts_at=starts_at, ends_at=max(ends_at, until)),
            "readings": tuple(r for r in site_input.readings if r.surface_id in own),
        }
    )


def as_planned(
    one: SiteInput, so_far: SoFar, learned: tuple[LearnedCover, ...]
) -> Week:
    """Play an issue on what was known when it came out."""
    clocked = clocked_so_far(one, so_far, learned)
    roster = so_far.issue
    _require_same(clocked, roster)
    return Week(clocked, roster, audit(clocked, roster))


def clocked_so_far(
    one: SiteInput, so_far: SoFar, learned: tuple[LearnedCover, ...]
) -> Clocked:
    """Run both clocks on what has happened, covers drying as they were found to."""
    facts = so_far.facts(one)
    return so_far.with_finds(clock(facts, surfaces_of(facts)), learned)


def as_written(clocked: Clocked, so_far: SoFar, *, alone: bool = False) -> Week:
    """Play what has happened so far, and the rest as planned.

    A visit of which nobody wrote counts as done as planned, as a plan of the rest of
    the week takes it up.

    Parameters
    ----------
    clocked : Clocked
        On what has happened.
    alone : bool
        What is written alone: visits of which nobody wrote do not count.
    """
    ends_at: dict[str, datetime] = {}
    for _ in range(_MOST_TIMES):
        now = ending(clocked, ends_at)
        asked = expand(
            now.site_input, now.surfaces, now.hydration, now.drying, clocked.held
        )
        work = so_far.of(asked)
        roster = so_far.issue.model_copy(
            update={
                "horizon": clocked.site_input.horizon,
                "surfaces": work.surfaces,
                "visits": tuple(_visits(so_far, work, alone)),
                "begun_until": so_far.at,
            }
        )
        report = audit(clocked, roster)
        later = {
            f.surface_id: f.ends_at
            for f in report.findings
            if f.kind == "uncredited" and f.surface_id is not None
        }
        if later == ends_at:
            break
        ends_at = later
    return Week(clocked, roster, report)


def _visits(so_far: SoFar, work: WorkList, alone: bool) -> Iterable[Visit]:
    """Give what has begun, of no shift, and what is still to come."""
    begun = set(work.begun)
    tasks = {t.id: t for one in work.surfaces for t in all_tasks(one)}
    for one in so_far.seen:
        visit = one.visit
        if published_visit(visit, work.horizon) in begun:
            if not alone or one.entry is not None or _is_seen_later(one, so_far, tasks):
                yield visit.model_copy(update={"shift_id": ""})
        elif _is_ahead(one, so_far.at) and visit.task_id in tasks and not alone:
            yield visit


def _is_seen_later(laid: SeenVisit, so_far: SoFar, tasks: Mapping[str, Task]) -> bool:
    """Whether somebody wrote of work on a cover after a visit that laid it."""
    task = tasks.get(laid.visit.task_id)
    if task is None or not (task.covers or task.facts.lays or task.strip):
        return False
    return any(
        one.entry is not None
        and not one.is_failed
        and one.visit.surface_id == laid.visit.surface_id
        and one.visit.starts_at >= laid.visit.ends_at
        and (done := tasks.get(one.visit.task_id)) is not None
        and done.facts.on_cover
        and done.kind != "soak"
        for one in so_far.seen
    )


def _is_ahead(one: SeenVisit, at: datetime) -> bool:
    return one.visit.starts_at >= at and not one.is_failed


def _require_same(clocked: Clocked, roster: Roster) -> None:
    """Refuse a folder whose surfaces are not those of the issue."""
    here = {surface.id for surface in clocked.surfaces}
    held = {work.surface_id for work in roster.surfaces}
    if here != held:
        names = ", ".join(sorted(here ^ held))
        wanted = "the surfaces that the newest issue has"
        hint = "Publish the week anew, then make the record"
        raise InputError([Problem(Place("pours"), "pour", names, wanted, hint)])
