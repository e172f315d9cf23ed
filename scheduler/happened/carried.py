"""Pours of the week before that are curing still, with the weather they had.

A folder names the pours of its own week and has a forecast that begins now. What was
poured before comes from the newest issue, as it happened; a pour that the folder names
itself is the folder's.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from models.errors import Problem
from models.files.inputs.stand_ins import Part
from models.files.site_folder import SiteFiles
from models.records import Pour, Profile, SiteInput
from scheduler.clocked import clock
from scheduler.happened.covers_laid import CoversLaid
from scheduler.happened.facts import as_placed
from scheduler.happened.lacking import (
    lacks,
    no_hours,
    other_site,
    strange_readings,
)
from scheduler.happened.past_weather import Joined, joined
from scheduler.happened.so_far import SoFar
from scheduler.methods.case.held import LATEST_AFTER_DUE_MIN
from scheduler.methods.surfaces import surfaces_of

_LIFTED_WITHIN = timedelta(minutes=LATEST_AFTER_DUE_MIN)


@dataclass(frozen=True)
class FromBefore:
    """What of an issue is curing still, or under covers that wait to be lifted.

    Attributes
    ----------
    pour_ids : tuple of str
        Pours of the issue that the folder does not name.
    bare_ids : tuple of str
        Their surfaces that wait for a cover which nobody laid.
    """

    issue_number: int
    pour_ids: tuple[str, ...]
    bare_ids: tuple[str, ...] = ()


@dataclass(frozen=True)
class Carried:
    """A site with what is curing still, what of it are stand-ins, and what is wrong."""

    site_input: SiteInput
    stand_ins: frozenset[Part]
    problems: tuple[Problem, ...] = ()
    from_before: FromBefore | None = None


def carried(so_far: SoFar, files: SiteFiles, site_input: SiteInput) -> Carried:
    """Add to a folder's site what is curing still of the newest issue.

    Parameters
    ----------
    site_input : SiteInput
        The site of ``files``.
    """
    late = files.late
    as_it_is = Carried(
        site_input, files.stand_ins, () if late is None else (late.problem,)
    )
    if "head" in files.stand_ins or (late is None and "weather" in files.stand_ins):
        return as_it_is  # refused anyway
    if so_far.issue.site_name != site_input.site.name:
        return Carried(site_input, files.stand_ins, (other_site(so_far, site_input),))
    starts_at = site_input.horizon.starts_at
    return _Week(so_far, files, site_input, starts_at).carried()


def week_of_issue(so_far: SoFar, files: SiteFiles) -> SiteInput:
    """Give the site in the week of the newest issue, with the folder's weather.

    Raises
    ------
    InputError
        With every problem of the folder, and of what it lacks for that week.
    """
    problems, site_input = files.problems, files.site_input
    problems.raise_if_any()
    assert site_input  # had no pour been read, a problem would have been raised
    if so_far.issue.site_name != site_input.site.name:
        problems.keep(other_site(so_far, site_input))
        problems.raise_if_any()
    problems.keep(*strange_readings(so_far, files))
    starts_at = so_far.issue.horizon.starts_at
    week = _Week(so_far, files, site_input, starts_at).whole()
    problems.keep(*week.problems)
    problems.raise_if_any()
    return week.site_input


class _Week:
    """A week from some instant on: one folder's, and the issue's before it."""

    def __init__(
        self,
        so_far: SoFar,
        files: SiteFiles,
        site_input: SiteInput,
        starts_at: datetime,
    ) -> None:
        self.so_far, self.files, self.site_input = so_far, files, site_input
        self.starts_at = starts_at
        self.covers = CoversLaid(
            so_far.issue, so_far.seen, so_far.pours.reported, starts_at
        )
        self.told_ends = {
            work.surface_id: so_far.issue.horizon.at(work.ends_min)
            for work in so_far.issue.surfaces
        }

    def carried(self) -> Carried:
        so_far = self.so_far
        pours, problems = self._complete(self._unnamed())
        weather = self._weather((*self.site_input.pours, *pours))
        problems += no_hours(so_far, self.files, weather.holes)
        stand_ins = self.files.stand_ins
        if weather.holes:
            return Carried(self.site_input, stand_ins, tuple(problems))
        site_input = self._covered().model_copy(update={"weather": weather.weather})
        stand_ins -= {"weather"}
        if not pours:
            return Carried(site_input, stand_ins, tuple(problems))
        return self._with(site_input, pours, stand_ins, problems)

    def whole(self) -> Carried:
        """Give the issue's own week: its pours, by the folder where that has them."""
        so_far, folder = self.so_far, self.site_input
        is_its_week = folder.horizon == so_far.issue.horizon
        own = {pour.id: pour for pour in folder.pours} if is_its_week else {}
        pours, problems = self._complete(
            own.get(pour.id, pour) for pour in so_far.pours.pours
        )
        weather = self._weather(pours)
        problems += no_hours(so_far, self.files, weather.holes)
        update = {
            "horizon": so_far.issue.horizon,
            "pours": tuple(pours),
            "reported": so_far.pours.reported,
            "weather": weather.weather,
            "profiles": {**folder.profiles, **self._profiles(pours)},
        }
        site_input = folder.model_copy(update=update)
        return Carried(site_input, self.files.stand_ins, tuple(problems))

    def _complete(self, pours: Iterable[Pour]) -> tuple[list[Pour], list[Problem]]:
        """Leave out pours of which the folder lacks something, and say so."""
        kept, problems = [], []
        for pour in pours:
            lacking = [*lacks(self.so_far, self.files, pour)]
            problems += lacking if self._is_needed(pour) else []
            if not lacking:
                kept.append(pour)
        return kept, problems

    def _weather(self, pours: Iterable[Pour]) -> Joined:
        """Give the folder's weather, with the issue's before it as far as needed."""
        late = self.files.late
        now = self.site_input.weather if late is None else late.weather
        placings = (pour.placing_starts_at for pour in pours)
        return joined(self.so_far.weather, now, min([self.starts_at, *placings]))

    def _with(
        self,
        site_input: SiteInput,
        pours: Sequence[Pour],
        stand_ins: frozenset[Part],
        problems: Iterable[Problem],
    ) -> Carried:
        """Add those of some pours that are curing still, under their covers."""
        so_far, covers = self.so_far, self.covers
        laid = [covers.on(pour) for pour in pours]
        alone = site_input.model_copy(
            update={
                "pours": tuple(pour for pour, _ in laid),
                "reported": tuple(one for _, faces in laid for one in faces),
                "profiles": {**site_input.profiles, **self._profiles(pours)},
            }
        )
        open_ids = {*self._curing(so_far.facts(alone))}
        kept = tuple(pour for pour in alone.pours if pour.id in open_ids)
        reported = tuple(
            one for pour, faces in laid if pour.id in open_ids for one in faces
        )
        before = FromBefore(
            so_far.issue_number,
            tuple(pour.id for pour in kept),
            tuple(
                surface_id
                for pour, faces in laid
                if pour.id in open_ids
                for surface_id in covers.waiting(pour, faces)
            ),
        )
        pours = (*kept, *site_input.pours)
        weather = self._weather(pours).weather
        everything = alone.model_copy(
            update={
                "pours": pours,
                "reported": (*site_input.reported, *reported),
                "weather": weather,
            }
        )
        return Carried(everything, stand_ins, tuple(problems), before if kept else None)

    def _covered(self) -> SiteInput:
        """Give the folder's site with the covers that lie on pours it names still.

        A row that says when its top was covered counts.
        """
        known = {
            pour.id: pour
            for pour in self.so_far.pours.pours
            if pour.placing_starts_at < self.starts_at
        }
        pours, reported = [], [*self.site_input.reported]
        for pour in self.site_input.pours:
            was = known.get(pour.id)
            if was is not None and pour.placing_starts_at < self.starts_at:
                times = {"covered_at": was.covered_at, "wetted_at": was.wetted_at}
                before = pour if pour.covered_at else pour.model_copy(update=times)
                for placed in as_placed([before], self.so_far.entries):
                    laid, others = self.covers.on(placed)
                    times = {"covered_at": laid.covered_at, "wetted_at": laid.wetted_at}
                    pour = pour if pour.covered_at else pour.model_copy(update=times)
                    reported += others
            pours.append(pour)
        update = {"pours": tuple(pours), "reported": tuple(reported)}
        return self.site_input.model_copy(update=update)

    def _unnamed(self) -> Iterator[Pour]:
        """Give pours from before the week that the folder leaves to the ledger."""
        named = {pour.id for pour in self.site_input.pours}
        left = (
            pour
            for pour in self.so_far.pours.pours
            if pour.id not in named and pour.placing_starts_at < self.starts_at
        )
        yield from as_placed(left, self.so_far.entries)

    def _is_needed(self, pour: Pour) -> bool:
        """Whether a pour was told to be curing still when the week starts."""
        told = [
            ends_at
            for surface_id, ends_at in self.told_ends.items()
            if surface_id.rpartition("-")[0] == pour.id
        ]
        return not told or max(told) > self.starts_at

    def _profiles(self, pours: Iterable[Pour]) -> Mapping[str, Profile]:
        names = sorted({pour.profile for pour in pours if pour.profile is not None})
        return {name: self.files.profiles.get(name) for name in names}

    def _curing(self, happened: SiteInput) -> Iterator[str]:
        """Name the pours of which a surface is curing, or waits for its cover to go.

        By the clock, and by what people were told where that is later: dry time that
        was found before put the end off. Nobody is asked any more to lift a cover that
        should have been off for days.
        """
        surfaces = surfaces_of(happened)
        seen = {surface.pour_id for surface in surfaces}
        # What has slipped beyond this week is of a later one.
        yield from (pour.id for pour in happened.pours if pour.id not in seen)
        if not surfaces:
            return
        events = clock(happened, surfaces).hydration.events
        for surface, own in zip(surfaces, events, strict=True):
            told_at = self.told_ends.get(surface.id, self.starts_at)
            lies = surface.covered_at is not None and surface.covers[-1].form != "film"
            lifted_by = _LIFTED_WITHIN if lies else timedelta(0)
            ends = own.curing_ends
            if (
                ends is None
                or max(ends.expected_at, told_at) + lifted_by > self.starts_at
            ):
                yield surface.pour_id
