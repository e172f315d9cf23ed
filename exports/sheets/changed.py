"""What a shift's crew has to hear of since the issue before: row by row, and gone."""

from exports.changes import crew_names, gone_words, heading, was_words
from exports.entry import Entry
from models.local_clock import ShortTimes
from models.records import ChangeList, ShiftTrace, Site, Told


class SheetChanges:
    """The changes of an issue as the sheets say them; of a first issue there are none.

    Attributes
    ----------
    heading : str
        Since which issue; empty where there was none before.
    """

    def __init__(self, site: Site, changes: ChangeList | None) -> None:
        self.heading = heading(changes) if changes else ""
        self._all = changes.changes if changes else ()
        self._of_visit = {change.visit_id: change for change in self._all}
        self._names = crew_names(site)
        self._teams = {team.id: team for team in site.teams}

    def was(self, entry: Entry, times: ShortTimes) -> str:
        """Say how a visit was; empty where nothing is news."""
        change = self._of_visit.get(entry.visit_id)
        return was_words(change, self._names, times.time) if change else ""

    def taken_off(self, shift: ShiftTrace, times: ShortTimes) -> tuple[str, ...]:
        """List the visits that a shift had and has no more, in order of time."""
        return tuple(
            f"{times.time(change.was.starts_at)} {change.was.what}: "
            f"{gone_words(change, self._names, times.time)}"
            for change in self._all
            if change.was
            and self._in(shift, change.was)
            and not (change.now and self._in(shift, change.now))
        )

    def _in(self, shift: ShiftTrace, told: Told) -> bool:
        """Whether what was told of a visit puts it on the sheet of a shift."""
        if not shift.starts_at <= told.starts_at < shift.ends_at:
            return False
        doer, reader = self._teams.get(told.crew_id), self._teams[shift.crew_id]
        return doer is not None and reader.speaks_for(doer)
