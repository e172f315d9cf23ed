"""A site's ledger as its records need it: read once, played once a pour."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from functools import cached_property

from models.errors import InputError, Place, Problem
from models.ledger.standing import standing
from models.ledger.store import Store
from models.records import (
    Entry,
    Issue,
    LearnedCover,
    Pour,
    Roster,
    SiteInput,
)
from models.wording import did_you_mean, one_of, say
from scheduler.happened.conditions import conditions
from scheduler.happened.ledgered import pours_of, roster_of, weather_of
from scheduler.happened.so_far import SoFar
from scheduler.recorded.played import (
    Week,
    surface_ids,
)

COMMAND = Place("keepdamp record")
_PUBLISH = "Publish the week first: keepdamp publish SITE"


@dataclass(frozen=True)
class Book:
    """A site's ledger, read once for all of its surfaces."""

    site_input: SiteInput
    entries: tuple[Entry, ...]
    issues: tuple[Issue, ...]
    places: Mapping[int, Mapping[str, str]]
    _played: dict[tuple[object, ...], Week] = field(default_factory=dict)
    _learned: dict[object, tuple[LearnedCover, ...]] = field(default_factory=dict)

    @property
    def newest(self) -> Issue:
        """The issue that counts now."""
        return self.issues[-1]

    @cached_property
    def standing(self) -> tuple[Entry, ...]:
        """Entries that nothing corrects."""
        return standing(self.entries)

    @cached_property
    def rosters(self) -> Mapping[int, Roster]:
        """Rosters by the number of their issue."""
        return {issue.number: roster_of(issue) for issue in self.issues}

    def counted_at(self, at: datetime) -> tuple[int, Roster]:
        """Give the issue that counted at an instant, the first one before it."""
        begun = [one.number for one in self.issues if one.published_at <= at]
        number = begun[-1] if begun else self.issues[0].number
        return number, self.rosters[number]

    @property
    def surfaces(self) -> tuple[str, ...]:
        """Ids of the surfaces that the newest issue has, in its order."""
        roster = self.rosters[self.newest.number]
        return tuple(work.surface_id for work in roster.surfaces)

    def week(self, *key: object, play: Callable[[], Week]) -> Week:
        """Play a pour's week once for all of its surfaces."""
        if key not in self._played:
            self._played[key] = play()
        return self._played[key]

    def learned(
        self, issue: Issue, entries: tuple[Entry, ...]
    ) -> tuple[LearnedCover, ...]:
        """Give what finds all over the site have taught of its covers."""
        key = (issue.number, tuple(entry.number for entry in entries))
        if key not in self._learned:
            roster = self.rosters[issue.number]
            places = self.places[issue.number]
            of_issue = {"weather": weather_of(issue), "horizon": roster.horizon}
            site_input = self.site_input.model_copy(update=of_issue)
            so_far = SoFar(issue.published_at, roster, entries, places)
            self._learned[key] = (
                so_far.learned_on(site_input) if any(conditions(entries)) else ()
            )
        return self._learned[key]

    @property
    def newest_time(self) -> datetime:
        """When the ledger last heard of anything."""
        times = [entry.happened_at for entry in self.entries]
        return max([self.newest.published_at, *times])

    def pour_of(self, surface_id: str) -> Pour:
        """Find the pour of a surface that the newest issue has.

        Raises
        ------
        InputError
            If there is none, or the pour was called off.
        """
        if surface_id not in self.surfaces:
            wanted = one_of(self.surfaces)
            hint = did_you_mean(surface_id, self.surfaces)
            raise InputError(
                [Problem(COMMAND, "surface", say(surface_id), wanted, hint)]
            )
        for pour in (*self.site_input.pours, *self._pours_of_issues()):
            if surface_id in surface_ids(pour):
                return pour
        hint = "Put its row back, or publish the week without it"
        found = f"{surface_id} in no row of the pours"
        raise InputError([Problem(COMMAND, "surface", found, "its pour", hint)])

    def _pours_of_issues(self) -> Iterator[Pour]:
        """Give the pours that issues were planned with: a new week names them no more.

        First as the earliest issue has them, before anything of them was written.
        """
        for issue in self.issues:
            yield from pours_of(issue).pours


def read_book(site_input: SiteInput, store: Store | None) -> Book:
    """Read a ledger.

    Raises
    ------
    InputError
        If there is none, or nothing has been published.
    """
    if store is None:
        found = "no ledger"
        raise InputError([Problem(COMMAND, "", found, "a published week", _PUBLISH)])
    heads = store.issues()
    issues = [store.issue(head.number) for head in heads]
    if not issues:
        found = "a ledger in which nothing is published"
        raise InputError([Problem(COMMAND, "", found, "a published week", _PUBLISH)])
    known = tuple(issue for issue in issues if issue is not None)
    places: dict[int, dict[str, str]] = {}
    so_far: dict[str, str] = {}
    for issue in known:
        rows = store.visits(issue.number)
        so_far = so_far | {row.id: row.visit_id or "" for row in rows}
        places[issue.number] = so_far
    return Book(site_input, store.entries(), known, places)
