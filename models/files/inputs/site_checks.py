"""Whether the tables of ``site.toml`` agree with themselves and with one another."""

from datetime import time
from typing import Any

from models.drying.covers import cover_properties
from models.files.inputs.hose_reach import check_reach
from models.files.inputs.party_checks import check_parties
from models.files.inputs.site_toml import SiteFile
from models.files.reading.problems import ProblemCollector
from models.files.reading.record_reader import RawEntry
from models.files.reading.references import KnownIds, check_references, check_unique
from models.local_clock import WEEKDAYS
from models.records import (
    Break,
    CoverStock,
    HeatBan,
    Mix,
    Rules,
    ShiftPattern,
    WaterPoint,
)
from models.wording import say

_DAY_MIN = 24 * 60


def check_site(site: SiteFile, known: KnownIds, problems: ProblemCollector) -> None:
    """Refuse each entry that contradicts itself or names what is not defined."""
    check_references((site.head,), known, problems)
    for found in site.entries.values():
        check_unique(found, problems)
        check_references(found, known, problems)
        for entry in found:
            match entry.record:
                case ShiftPattern():
                    _check_breaks(entry, entry.record, problems)
                case HeatBan():
                    _check_ban(entry, entry.record, problems)
                case WaterPoint():
                    _check_tank(entry, entry.record, problems)
                case CoverStock():
                    _check_seams(entry, entry.record, problems)
                case Mix():
                    _check_setting(entry, entry.record, problems)
    check_reach(site.entries["zone"], site.entries["water"], problems)
    _check_turns(site, problems)
    _check_weeks(site, problems)
    _check_days(site, problems)
    check_parties(site.entries["crew"], site.entries["shift"], problems)


def _check_breaks(
    entry: RawEntry[Any], shift: ShiftPattern, problems: ProblemCollector
) -> None:
    """Ask that breaks lie in the shift, past midnight too, and not in each other."""

    def keep(span: Break, wanted: str) -> None:
        found = f"{span.starts:%H:%M}-{span.ends:%H:%M}"
        entry.refuse(problems, "breaks", found, wanted)

    length = _minutes(shift.starts, shift.ends) or _DAY_MIN
    free_from = 0
    for span in sorted(shift.breaks, key=lambda b: _minutes(shift.starts, b.starts)):
        begins = _minutes(shift.starts, span.starts)
        ends = begins + _minutes(span.starts, span.ends)
        if ends > length:
            within = f"{shift.starts:%H:%M}-{shift.ends:%H:%M}"
            keep(span, f"a break within the shift, {within}")
        elif begins < free_from:
            keep(span, "breaks that do not overlap")
        free_from = max(free_from, ends)


def _check_turns(site: SiteFile, problems: ProblemCollector) -> None:
    """Ask that the gang whose breaks come last has them within the shift too."""
    crews = [entry.record for entry in site.entries["crew"] if entry.record]
    for entry in site.entries["shift"]:
        shift = entry.record
        if not isinstance(shift, ShiftPattern) or not shift.break_stagger_min:
            continue
        if not shift.breaks:
            found = f"{shift.break_stagger_min} min without breaks"
            wanted = "breaks for the gangs to take in turn, or no break_stagger"
            entry.refuse(problems, "break_stagger", found, wanted)
            continue
        later = sum(shift.id in crew.shifts for crew in crews) - 1
        length = _minutes(shift.starts, shift.ends) or _DAY_MIN
        room = length - max(_minutes(shift.starts, span.ends) for span in shift.breaks)
        if later * shift.break_stagger_min > room >= 0:
            entry.refuse(
                problems, "break_stagger",
                f"{shift.break_stagger_min} min for {later + 1} gangs",
                f"at most {room // later} min, so that the last gang has its breaks "
                f"before '{shift.id}' ends, {shift.ends:%H:%M}",
            )  # fmt: skip


def _check_ban(entry: RawEntry[Any], ban: HeatBan, problems: ProblemCollector) -> None:
    if ban.starts == ban.ends:
        found = f"{ban.ends:%H:%M}"
        entry.refuse(problems, "ends", found, "another clock time than starts")
    if ban.from_date and ban.until_date and ban.until_date < ban.from_date:
        wanted = f"a day no earlier than from, {ban.from_date}"
        entry.refuse(problems, "until", f"{ban.until_date}", wanted)


def _check_weeks(site: SiteFile, problems: ProblemCollector) -> None:
    """Ask that a crew's shifts, without overtime, keep to the most hours of a week."""
    rules = site.singles["rules"].record
    most_h = rules.week_hours_max_h if isinstance(rules, Rules) else None
    if most_h is None:
        return
    patterns = {e.record.id: e.record for e in site.entries["shift"] if e.record}
    for entry in site.entries["crew"]:
        names = entry.record.shifts if entry.record else ()
        own = [patterns[name] for name in names if name in patterns]
        hours = sum(_week_min(shift) for shift in own if not shift.on_call) / 60
        if hours > most_h:
            entry.refuse(
                problems, "shifts", f"{hours:g} h of shifts a week",
                f"at most {most_h:g} h, week_hours_max of [rules]",
                "Give it fewer or shorter shifts, or some of them to another crew",
            )  # fmt: skip


def _check_days(site: SiteFile, problems: ProblemCollector) -> None:
    """Ask that what a crew works on one day, without overtime, is not too long."""
    rules = site.singles["rules"].record
    if not isinstance(rules, Rules):
        return
    patterns = {e.record.id: e.record for e in site.entries["shift"] if e.record}
    for entry in site.entries["crew"]:
        names = entry.record.shifts if entry.record else ()
        own = [patterns[name] for name in names if name in patterns]
        worked = [shift for shift in own if not shift.on_call]
        for day in WEEKDAYS:
            minutes = sum(_day_min(shift) for shift in worked if day in shift.days)
            if minutes > 60 * rules.day_hours_max_h:
                entry.refuse(
                    problems, "shifts", f"{minutes / 60:g} h of shifts on {day}",
                    f"at most {rules.day_hours_max_h:g} h, day_hours_max of [rules]",
                    "Give it shorter shifts, or one of them to another crew",
                )  # fmt: skip
                break


def _week_min(shift: ShiftPattern) -> int:
    """Minutes of a week's shifts less their breaks."""
    return len(shift.days) * _day_min(shift)


def _day_min(shift: ShiftPattern) -> int:
    """Minutes of one shift less its breaks."""
    length = _minutes(shift.starts, shift.ends) or _DAY_MIN
    return length - sum(_minutes(span.starts, span.ends) for span in shift.breaks)


def _check_tank(
    entry: RawEntry[Any], water: WaterPoint, problems: ProblemCollector
) -> None:
    if water.kind != "mains" and water.capacity_l is None:
        entry.refuse(problems, "capacity", "", f"what the {water.kind} holds, in L")
    elif water.capacity_l and water.level_l and water.level_l > water.capacity_l:
        wanted = f"at most the capacity, {water.capacity_l:g} L"
        entry.refuse(problems, "level", f"{water.level_l:g} L", wanted)


def _check_seams(
    entry: RawEntry[Any], stock: CoverStock, problems: ProblemCollector
) -> None:
    """Ask that only what has edges and laps says how they are closed, and once."""
    given = {"laps": stock.laps, "seam_loss": stock.seam_loss_l_m_d}
    keys = [key for key, value in given.items() if value is not None]
    wanted = "either laps or seam_loss" if len(keys) > 1 else ""
    if cover_properties(stock.kind).seam_loss_l_m_d == 0:
        wanted = "nothing here: laps and seam_loss are of sheets, paper and blankets"
    if keys and wanted:
        entry.refuse(problems, keys[0], say(given[keys[0]]), wanted)


def _check_setting(entry: RawEntry[Any], mix: Mix, problems: ProblemCollector) -> None:
    if mix.final_set_h is None or mix.initial_set_h is None:
        return
    if mix.final_set_h <= mix.initial_set_h:
        wanted = f"a time after initial_set, {mix.initial_set_h:g} h"
        entry.refuse(problems, "final_set", f"{mix.final_set_h:g} h", wanted)


def _minutes(since: time, until: time) -> int:
    """Minutes on the clock from one time to the next time it shows the other."""
    passed = (until.hour - since.hour) * 60 + until.minute - since.minute
    return passed % _DAY_MIN
