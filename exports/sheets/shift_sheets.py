"""Shift sheets of a roster: who gets one, and what stands on it."""

from collections import Counter
from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta
from typing import Literal

from exports.breaches import Group, breached, groups
from exports.entry import MAX_CAUTIONS, Entry
from exports.handed import Handed
from exports.notices import BRIEFLY, PLANNING_AID, revision
from exports.sheets.changed import SheetChanges
from exports.sheets.hold_points import hold_points
from exports.sheets.pages import lines_of_breach, pages_of
from exports.sheets.render import render
from exports.sheets.shift_sheet import SheetBreach, SheetRow, ShiftSheet
from exports.sheets.surroundings import water_lines, weather_lines
from exports.text import file_name, one_line, shorten
from exports.why import why_between
from models.local_clock import LocalClock, ShortTimes
from models.quantities import duration
from models.records import AuditReport, Roster, ShiftTrace, Site, Weather

BREACHES = 6
COMING = 3
DRY_LINES = 3
DRY_SIGNS = 150

#: Common practice, no source; the site manager's own orders go before them.
STANDING_ORDERS = (
    "Found dry: wet it at once, record time and area, tell the lead. "
    "Wind rising: check laps and edges, weigh down what lifts. "
    "No water, or cannot reach it: call at once, do not skip it."
)


def shift_sheets(
    site: Site,
    roster: Roster,
    report: AuditReport,
    entries: Sequence[Entry],
    weather: Weather | None,
    handed: Handed,
) -> Iterator[tuple[str, ShiftSheet]]:
    """Yield a sheet for every shift, idle ones too, and every call-out.

    Parameters
    ----------
    site, roster, report : Site, Roster, AuditReport
        The site, a roster of it and that roster's audit.
    entries : sequence of Entry
        All entries of the roster.
    weather : Weather or None
        The forecast; without it the sheet leaves the weather out.
    handed : Handed
        As which issue, or as a draft.

    Yields
    ------
    tuple of str and ShiftSheet
        A name for its file, without ending, and the sheet; in order of start.
    """
    desk = _Desk(site, roster, report, entries, weather, handed)
    for shift in sorted(report.shifts, key=lambda s: (s.starts_at, s.crew_id)):
        visits = [entry for entry in entries if desk.is_in(entry, shift)]
        if desk.hands_out(shift) and (visits or not shift.on_call):
            yield desk.name(shift), desk.sheet(shift, visits)


def shift_sheet_files(
    site: Site,
    roster: Roster,
    report: AuditReport,
    entries: Sequence[Entry],
    weather: Weather | None,
    handed: Handed,
) -> dict[str, bytes]:
    """Write all shift sheets as PDF files by name."""
    sheets = shift_sheets(site, roster, report, entries, weather, handed)
    return {f"{name}.pdf": render(sheet) for name, sheet in sheets}


class _Desk:
    """Where the sheets of one roster are filled in."""

    def __init__(
        self,
        site: Site,
        roster: Roster,
        report: AuditReport,
        entries: Sequence[Entry],
        weather: Weather | None,
        handed: Handed,
    ) -> None:
        self.site, self.report, self.entries = site, report, entries
        self.gaps = roster.gaps
        self.on_dry_side = roster.forecast_side == "dry"
        self.weather, self.handed = weather, handed
        self.changed = SheetChanges(site, handed.changes)
        self.revision = revision(roster)
        self.clock = LocalClock(roster.timezone)
        self.crews = {crew.id: crew for crew in site.teams}
        self.part_of = {shift.shift_id: shift.part_of for shift in report.shifts}
        self.labels = {work.surface_id: work.label for work in roster.surfaces}

    def is_in(self, entry: Entry, shift: ShiftTrace) -> bool:
        """Whether a visit is on the sheet.

        A party's holds its whole gang's too, a gang's that of its default pairs. What
        happened out of anybody's hours is on none.
        """
        if not entry.shift_id:
            return False
        if entry.shift_id in (shift.shift_id, shift.part_of):
            return True
        pair = self.crews[entry.crew_id].by_default
        return pair and self.part_of.get(entry.shift_id) == shift.shift_id

    def hands_out(self, shift: ShiftTrace) -> bool:
        """Whether a shift has a sheet; of a gang with parties each of them has one."""
        return shift.on_call or self.crews[shift.crew_id].has_sheets

    def name(self, shift: ShiftTrace) -> str:
        """``2027-05-03-2200-owl``: sorted by start in any file list."""
        local = self.clock.local(shift.starts_at)
        return f"{local:%Y-%m-%d-%H%M}-{file_name(shift.crew_id)}"

    def sheet(self, shift: ShiftTrace, visits: Sequence[Entry]) -> ShiftSheet:
        site, crew = self.site, self.crews[shift.crew_id]
        span = self.clock.span(shift.starts_at, shift.ends_at)
        times = ShortTimes(self.clock, shift.starts_at, shift.ends_at)
        breaches = tuple(self._breaches(shift, visits, times))
        taken_off = self.changed.taken_off(shift, times)
        return ShiftSheet(
            title=f"Shift sheet, {one_line(crew.name)}, {span}",
            paper=_paper(site),
            published_at=self.handed.at,
            site=one_line(site.name),
            crew=one_line(crew.name),
            lead=one_line(crew.lead),
            phone=one_line(crew.phone),
            shift=span + (" (call-out)" if shift.on_call else ""),
            breaks=_breaks(shift, times),
            other_work=_other_work(shift, times),
            zone_note=f"{times.note[0].upper()}{times.note[1:]}.",
            breaches=breaches,
            revision=self.revision,
            issue=self.handed.words(self.clock),
            draft=self.handed.number is None,
            changed=self.changed.heading,
            taken_off=taken_off,
            weather=(
                *weather_lines(site, self.weather, shift.starts_at, shift.ends_at),
                *((BRIEFLY,) if self.on_dry_side else ()),
            ),
            water=water_lines(site, self.report, shift.starts_at, shift.ends_at),
            bring=_bring(visits),
            pages=pages_of(
                [
                    _row(
                        times,
                        entry,
                        self._who(entry, shift),
                        self.changed.was(entry, times),
                    )
                    for entry in visits
                ],
                sum(lines_of_breach(breach) for breach in breaches) + len(taken_off),
            ),
            hold_points=hold_points(visits),
            dry=tuple(self._dry(shift, times)),
            cautions=_cautions(visits),
            standing_orders=STANDING_ORDERS,
            coming=tuple(self._coming(shift, times)),
            aid=PLANNING_AID,
        )

    def _who(self, entry: Entry, shift: ShiftTrace) -> str:
        """Say who does a visit, where that is not just whose sheet it is."""
        if entry.crew_id == shift.crew_id:
            return ""
        return one_line(self.crews[entry.crew_id].party_name) or "whole gang"

    def _breaches(
        self, shift: ShiftTrace, visits: Sequence[Entry], times: ShortTimes
    ) -> Iterator[SheetBreach]:
        """Say what comes to the surfaces of the shift, and to all by the next morning.

        Whoever is on site can still put a blanket on.
        """
        worked = {entry.surface_id for entry in visits}
        morning_at = self._morning_after(shift.ends_at)
        found = (
            finding
            for finding in self.report.findings
            if finding.surface_id in worked or finding.starts_at < morning_at
        )
        outside = breached(
            found,
            self.labels,
            self.clock,
            self.site.units,
            shift.starts_at,
            None,
            times,
        )
        left = len(outside) - BREACHES
        shown: tuple[Group, ...] = groups(outside[:BREACHES])
        for number, group in enumerate(shown, start=1):
            more = left > 0 and number == len(shown)
            yield SheetBreach(
                heading=group.heading,
                do=group.do,
                lines=(*group.lines, f"and {left} more: see the board")
                if more
                else group.lines,
            )

    def _morning_after(self, at: datetime) -> datetime:
        """End of the night that an instant lies in or comes before."""
        today = self.clock.local(at).date()
        ends = (
            self.clock.instant(today + timedelta(days=days), self.site.night_ends)
            for days in (0, 1)
        )
        return next(end for end in ends if end > at)

    def _dry(self, shift: ShiftTrace, times: ShortTimes) -> Iterator[str]:
        """Say the longest dry stretches of the shift, in order of time."""
        gaps = [
            gap
            for gap in self.gaps
            if gap.starts_at < shift.ends_at and gap.ends_at > shift.starts_at
        ]
        longest = sorted(gaps, key=lambda gap: -gap.minutes)[:DRY_LINES]
        for gap in sorted(longest, key=lambda gap: gap.starts_at):
            label = one_line(self.labels[gap.surface_id])
            span = times.span(gap.starts_at, gap.ends_at)
            reason = why_between(gap, shift.starts_at, shift.ends_at)
            line = f"{label}: {span}, {duration(gap.minutes)}; {reason}"
            yield shorten(line, DRY_SIGNS)
        if len(gaps) > DRY_LINES:
            yield f"and {len(gaps) - DRY_LINES} shorter: see the board"

    def _coming(self, shift: ShiftTrace, times: ShortTimes) -> Iterator[str]:
        later = sorted(
            (
                entry
                for entry in self.entries
                if entry.starts_at >= shift.ends_at and entry.shift_id != shift.shift_id
            ),
            key=lambda entry: (entry.starts_at, entry.crew_id, entry.visit_id),
        )
        for entry in later[:COMING]:
            yield f"{times.time(entry.starts_at)} {entry.title} ({entry.crew_name})"


def _breaks(shift: ShiftTrace, times: ShortTimes) -> str:
    spans = [
        f"{times.time(pause.starts_at)}–{times.time(pause.ends_at)}"
        for pause in shift.breaks
    ]
    return ", ".join(spans)


def _other_work(shift: ShiftTrace, times: ShortTimes) -> str:
    """Say what else the crew is on, and when it is free for curing again."""
    return ", ".join(
        f"{one_line(work.doing)} until {times.time(work.ends_at)}"
        if work.starts_at <= shift.starts_at
        else f"{times.time(work.starts_at)}–{times.time(work.ends_at)} "
        f"{one_line(work.doing)}"
        for work in shift.other_work
    )


def _row(times: ShortTimes, entry: Entry, who: str, was: str) -> SheetRow:
    people = f"{entry.people} {'person' if entry.people == 1 else 'people'}"
    people += f", {who}" if who else ""
    dry_by_at = entry.dry_by_at
    not_yet = dry_by_at is not None and dry_by_at > entry.starts_at
    return SheetRow(
        start_by=times.time(entry.start_by_at),
        planned=times.time(entry.starts_at),
        late=entry.late,
        was=was,
        title=entry.title,
        place=entry.zone_words,
        people=people,
        time=duration(entry.minutes),
        water_point=entry.water_point_name,
        water=entry.draw_words,
        dry_by=times.time(dry_by_at) if dry_by_at and not_yet else "",
        state=entry.state_words,
    )


def _bring(visits: Sequence[Entry]) -> str:
    """Say what to load once: tools by name, materials with the amount of each task."""
    things = [thing for entry in visits for thing in (*entry.materials, *entry.tools)]
    counted = Counter(things)
    materials = {thing for entry in visits for thing in entry.materials}
    return ", ".join(
        f"{count} × {thing}" if count > 1 and thing in materials else thing
        for thing, count in counted.items()
    )


def _cautions(visits: Sequence[Entry]) -> tuple[str, ...]:
    """Pick the three most frequent."""
    counted = Counter(caution for entry in visits for caution in entry.cautions)
    return tuple(caution for caution, _ in counted.most_common(MAX_CAUTIONS))


def _paper(site: Site) -> Literal["a4", "us-letter"]:
    return "us-letter" if site.units == "us" else "a4"
