"""One row turned into an entry: its columns, what it is about, its times."""

from collections.abc import Callable, Iterator, Mapping
from datetime import datetime, timedelta
from math import inf
from typing import Any, get_args

from models.files.reading.problems import ProblemCollector, ValueRefused
from models.files.reading.record_reader import RawEntry
from models.files.reading.row_tables import LOG
from models.local_clock import LocalClock
from models.records import Condition, Entry, LogRow, NewEntry, TaskKind, Withdrawn
from models.wording import did_you_mean, one_of, say
from scheduler.logbook.kinds import COMMON, KINDS, About, KindRule, spoken
from scheduler.logbook.known import Known, KnownVisit
from scheduler.logbook.sense import is_late
from scheduler.logbook.spoken_time import Toward, is_spoken, read_spoken
from scheduler.logbook.values import Words, happening

_NEEDED = {
    "to": "when it is to be, a time such as 'Wed 10:00'",
    "from": "from when, a time such as 'Fri 07:00'",
    "found": f"the condition found, {one_of(get_args(Condition))}",
    "place": "where it was read, surface or core",
    "temperature": "a temperature",
    "correct": "the number of the entry that is withdrawn",
}
#: What concrete and air may have, as their records say.
_TEMPERATURES_C = {"reading": (-20, 100), "weather_observed": (-40, 60)}
#: A weekday said after another names the one that comes next; a whole week later it is
#: more likely a slip.
_SAID_WITHIN = timedelta(days=6)
_CALLED: Mapping[About, str] = {
    "pour": "a pour", "surface": "a surface", "crew": "a crew", "water": "a water point"
}  # fmt: skip


class Desk:
    """Where one row is turned into an entry."""

    def __init__(
        self,
        row: RawEntry[LogRow],
        known: Known,
        now: datetime,
        problems: ProblemCollector,
        at_once: bool,
    ) -> None:
        self.row, self.known, self.now = row, known, now
        self.problems, self.at_once = problems, at_once
        self.sound = True

    def entry(self) -> NewEntry | None:
        """Give the entry, or keep what is wrong with the row."""
        row = self.row.record
        if row is None:
            # What could be read is looked at all the same, so that all is told at once.
            if "what" not in self.row.values:
                return None
            self.sound = False
            values: dict[str, Any] = dict(self.row.values)
            row = LogRow.model_construct(None, **values)
        rule = KINDS[row.what]
        self._columns(row, rule)
        corrected = self._corrected(row)
        visit = self._visit(row)
        about = self._about(row, rule, visit, corrected)
        work = self._work(row, rule, visit)
        near = visit.starts_at if visit else self.now
        toward: Toward = "near" if visit else "back"
        at = self._time("at", row.at, near, toward) or self._unsaid(row, rule)
        from_at, to_at = self._stretch(row, at)
        if not self.sound or at is None:
            return None
        named = _names(visit, row, self.known) if visit else {}
        words = Words(row, from_at, to_at, work, named)
        return NewEntry(
            about=about,
            happened_at=at,
            by=row.by,
            late=is_late(at, self.now, self.known.newest),
            corrects=row.corrects,
            note=row.note,
            values=happening(words),
        )

    def _refuse(self, key: str, found: str, wanted: str, hint: str = "") -> None:
        self.sound = False
        self.row.refuse(self.problems, key, found, wanted, hint)

    def _columns(self, row: LogRow, rule: KindRule) -> None:
        """Refuse what is missing for this sort of entry, and what does not belong."""
        filled = {
            column.key for column in LOG.columns if column.field in self.row.values
        }
        word = spoken(row.what)
        if self.row.record is not None:
            for key in rule.needs:
                if key not in filled:
                    self._refuse(key, "", _NEEDED[key])
            if not row.by:
                self._refuse("by", "", "initials of who says so")
        for key in sorted(filled - {*COMMON, *rule.needs, *rule.takes}):
            takes = one_of((*rule.needs, *rule.takes)) if rule.takes else "no more"
            value = say(self.row.values.get(_FIELDS[key]))
            self._refuse(key, value, f"nothing: {word} takes {takes}")
        low_c, high_c = _TEMPERATURES_C.get(row.what, (-inf, inf))
        if row.temperature_c is not None and not low_c <= row.temperature_c <= high_c:
            wanted = f"a temperature from {low_c:g} to {high_c:g} °C"
            self._refuse("temperature", f"{row.temperature_c:g} °C", wanted)
        if (
            row.what == "weather_observed"
            and self.row.record is not None
            and not filled & set(rule.takes)
        ):
            self._refuse("", "", f"a measured value, {one_of(rule.takes)}")

    def _corrected(self, row: LogRow) -> Entry | None:
        if row.corrects is None:
            return None
        by_number = {one.number: one for one in self.known.entries}
        old = by_number.get(row.corrects)
        if old is None:
            last = len(by_number)
            wanted = f"the number of an entry, 1 to {last}" if last else "no entry yet"
            self._refuse("correct", f"{row.corrects}", wanted)
        elif old.kind == "signed":
            hint = "Write a new entry; the record shows it as an amendment"
            self._refuse("correct", f"{row.corrects}, a signature", "an entry", hint)
        elif old not in self.known.standing:
            newer = [one for one in by_number.values() if one.corrects == old.number]
            if newer:
                found = f"{row.corrects}, which is corrected already"
                self._refuse("correct", found, f"the newer entry {newer[-1].number}")
        return old

    def _visit(self, row: LogRow) -> KnownVisit | None:
        if not row.visit_id:
            return None
        newest = self.known.newest
        if newest is None:
            hint = "Say surface and work instead: work-done P1-top rewet"
            self._refuse("visit", say(row.visit_id), "a published roster", hint)
            return None
        visits = self.known.visits(row.issue_number or newest.number)
        if row.visit_id not in visits:
            wanted = f"a visit of issue {row.issue_number or newest.number}"
            hint = did_you_mean(row.visit_id, visits)
            self._refuse("visit", say(row.visit_id), wanted, hint)
        return visits.get(row.visit_id)

    def _about(
        self,
        row: LogRow,
        rule: KindRule,
        visit: KnownVisit | None,
        corrected: Entry | None,
    ) -> str:
        if rule.about == "site":
            if row.about:
                wanted = f"nothing: {spoken(row.what)} is about the site"
                self._refuse("about", say(row.about), wanted)
            is_withdrawal = row.what == Withdrawn().kind
            return corrected.about if corrected and is_withdrawal else ""
        if visit is not None and not row.about:
            return visit.surface_id
        if row.visit_id and visit is None:
            return ""
        names = self._names(rule.about)
        if row.about not in names:
            wanted = f"{_CALLED[rule.about]} of the site, {one_of(names)}"
            hint = did_you_mean(row.about, names)
            self._refuse("about", say(row.about), wanted, hint)
        elif visit is not None and visit.surface_id != row.about:
            wanted = f"{visit.surface_id}, as the visit is there"
            self._refuse("about", say(row.about), wanted)
        return row.about

    def _names(self, about: About) -> tuple[str, ...]:
        site = self.known.site
        names: dict[About, Callable[[], Iterator[str]]] = {
            "pour": lambda: iter(self.known.pours),
            "surface": lambda: iter(self.known.surfaces),
            "crew": lambda: (team.id for team in site.teams),
            "water": lambda: (point.id for point in site.water_points),
        }
        return tuple(names[about]())

    def _work(
        self, row: LogRow, rule: KindRule, visit: KnownVisit | None
    ) -> TaskKind | None:
        if rule.word != "work":
            return None
        if self.row.record and not (visit or row.work or row.visit_id):
            self._refuse("work", "", "what work it was, such as rewet, or a visit's id")
        if visit and row.work and visit.kind != row.work:
            self._refuse("work", say(row.work), f"{visit.kind}, as the visit is")
        return visit.kind if visit else row.work

    def _time(
        self, key: str, text: str, near: datetime, toward: Toward
    ) -> datetime | None:
        if not text:
            return None
        try:
            return read_spoken(text, self.known.local, near, toward)
        except ValueRefused as no:
            self._refuse(key, say(text), no.wanted, no.hint)
            return None

    def _unsaid(self, row: LogRow, rule: KindRule) -> datetime | None:
        """Give the time of a row that names none."""
        if row.at:
            return None
        if not (self.at_once or rule.ahead or row.what == "withdrawn"):
            self._refuse("at", "", "when it happened, a time such as 03:10")
        return self.now

    def _stretch(
        self, row: LogRow, at: datetime | None
    ) -> tuple[datetime | None, datetime | None]:
        """Read from when, without a day the nearest, and to when, the next after it."""
        about = at or self.now
        toward: Toward = "back" if row.what == "work_done" else "near"
        from_at = self._time("from", row.from_words, about, toward)
        to_at = self._time("to", row.to_words, from_at or about, "ahead")
        clock = LocalClock(self.known.site.timezone)
        if row.what == "covers_taken":
            from_at = at
        if from_at and to_at and to_at <= from_at:
            wanted = f"a time after {clock.day_time(from_at)}"
            self._refuse("to", clock.day_time(to_at), wanted)
        elif (
            from_at
            and to_at
            and is_spoken(row.to_words)
            and to_at - from_at > _SAID_WITHIN
        ):
            wanted = f"a time soon after {clock.day_time(from_at)}"
            hint = "If a week later is meant, write the date in full"
            self._refuse("to", say(row.to_words), wanted, hint)
        return from_at, to_at


_FIELDS = {column.key: column.field for column in LOG.columns}


def _names(
    visit: KnownVisit, row: LogRow, known: Known
) -> Mapping[str, str | int | None]:
    """Give the fields of a work entry that name its visit."""
    newest = known.newest.number if known.newest else None
    return {
        "task_id": visit.task_id,
        "visit_id": row.visit_id,
        "issue_number": row.issue_number or newest,
        "identity_id": visit.identity_id,
    }
