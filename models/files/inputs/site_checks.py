"""What the tables of ``site.toml`` say of themselves and of one another."""

from datetime import time
from typing import Any

from models.drying.covers import cover_properties
from models.files.inputs.hose_reach import check_reach
from models.files.inputs.party_checks import check_parties
from models.files.inputs.site_toml import SiteFile
from models.files.reading.gather import Gatherer
from models.files.reading.record_reader import Entry
from models.files.reading.references import KnownIds, check_references, check_unique
from models.records import (
    Break,
    CoverStock,
    HeatBan,
    Mix,
    Rules,
    ShiftPattern,
    WaterPoint,
)

_DAY_MIN = 24 * 60


def check_site(site: SiteFile, known: KnownIds, gather: Gatherer) -> None:
    """Keep a problem for each entry that contradicts itself or names what is not."""
    check_references((site.head,), known, gather)
    for found in site.entries.values():
        check_unique(found, gather)
        check_references(found, known, gather)
        for entry in found:
            match entry.record:
                case ShiftPattern():
                    _check_breaks(entry, entry.record, gather)
                case HeatBan():
                    _check_ban(entry, entry.record, gather)
                case WaterPoint():
                    _check_tank(entry, entry.record, gather)
                case CoverStock():
                    _check_seams(entry, entry.record, gather)
                case Mix():
                    _check_setting(entry, entry.record, gather)
    check_reach(site.entries["zone"], site.entries["water"], gather)
    _check_turns(site, gather)
    _check_weeks(site, gather)
    check_parties(site.entries["crew"], site.entries["shift"], gather)


def _check_breaks(entry: Entry[Any], shift: ShiftPattern, gather: Gatherer) -> None:
    """Ask that breaks lie in the shift, past midnight too, and not in each other."""

    def keep(span: Break, wanted: str) -> None:
        gather.add(
            entry.place("breaks"), f"{entry.label}breaks",
            f"{span.starts:%H:%M}-{span.ends:%H:%M}", wanted,
        )  # fmt: skip

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


def _check_turns(site: SiteFile, gather: Gatherer) -> None:
    """Ask that the gang whose breaks come last has them within the shift too."""
    crews = [entry.record for entry in site.entries["crew"] if entry.record]
    for entry in site.entries["shift"]:
        shift = entry.record
        if not isinstance(shift, ShiftPattern) or not shift.break_stagger_min:
            continue
        if not shift.breaks:
            gather.add(
                entry.place("break_stagger"), f"{entry.label}break_stagger",
                f"{shift.break_stagger_min} min and no breaks",
                "breaks that gangs take one after the other, or no break_stagger",
            )  # fmt: skip
            continue
        later = sum(shift.id in crew.shifts for crew in crews) - 1
        length = _minutes(shift.starts, shift.ends) or _DAY_MIN
        room = length - max(_minutes(shift.starts, span.ends) for span in shift.breaks)
        if later * shift.break_stagger_min > room >= 0:
            gather.add(
                entry.place("break_stagger"), f"{entry.label}break_stagger",
                f"{shift.break_stagger_min} min for {later + 1} gangs",
                f"at most {room // later} min, so that the last of them has its breaks "
                f"before '{shift.id}' ends, {shift.ends:%H:%M}",
            )  # fmt: skip


def _check_ban(entry: Entry[Any], ban: HeatBan, gather: Gatherer) -> None:
    if ban.starts == ban.ends:
        gather.add(
            entry.place("ends"), f"{entry.label}ends", f"{ban.ends:%H:%M}",
            "another clock time than that of starts",
        )  # fmt: skip
    if ban.from_date and ban.until_date and ban.until_date < ban.from_date:
        gather.add(
            entry.place("until"), f"{entry.label}until", f"{ban.until_date}",
            f"from, {ban.from_date}, or a later day",
        )  # fmt: skip


def _check_weeks(site: SiteFile, gather: Gatherer) -> None:
    """Ask that the shifts of a crew alone keep to the most hours of a week."""
    rules = site.singles.get("rules")
    most_h = rules.week_hours_max_h if isinstance(rules, Rules) else None
    if most_h is None:
        return
    patterns = {e.record.id: e.record for e in site.entries["shift"] if e.record}
    for entry in site.entries["crew"]:
        names = entry.record.shifts if entry.record else ()
        own = [patterns[name] for name in names if name in patterns]
        hours = sum(_week_min(shift) for shift in own if not shift.on_call) / 60
        if hours > most_h:
            gather.add(
                entry.place("shifts"), f"{entry.label}shifts",
                f"{hours:g} h of shifts a week",
                f"at most {most_h:g} h, week_hours_max of [rules]",
                "Fewer or shorter shifts, or another crew for some of them",
            )  # fmt: skip


def _week_min(shift: ShiftPattern) -> int:
    """Minutes of a week's shifts less their breaks."""
    length = _minutes(shift.starts, shift.ends) or _DAY_MIN
    pauses = sum(_minutes(span.starts, span.ends) for span in shift.breaks)
    return len(shift.days) * (length - pauses)


def _check_tank(entry: Entry[Any], water: WaterPoint, gather: Gatherer) -> None:
    label = entry.label
    if water.kind != "mains" and water.capacity_l is None:
        gather.add(
            entry.place("capacity"), f"{label}capacity", "nothing",
            f"what the {water.kind} holds, in L",
        )  # fmt: skip
    elif water.capacity_l and water.level_l and water.level_l > water.capacity_l:
        gather.add(
            entry.place("level"), f"{label}level", f"{water.level_l:g} L",
            f"at most the capacity, {water.capacity_l:g} L",
        )  # fmt: skip


def _check_seams(entry: Entry[Any], stock: CoverStock, gather: Gatherer) -> None:
    """Ask that only what has edges and laps says how they are closed, and once."""
    given = {"laps": stock.laps, "seam_loss": stock.seam_loss_l_m_d}
    keys = [key for key, value in given.items() if value is not None]
    wanted = "either laps or seam_loss" if len(keys) > 1 else ""
    if cover_properties(stock.kind).seam_loss_l_m_d == 0:
        wanted = "nothing here: laps and seam_loss are of sheets, paper and blankets"
    if keys and wanted:
        found = str(given[keys[0]])
        gather.add(entry.place(keys[0]), f"{entry.label}{keys[0]}", found, wanted)


def _check_setting(entry: Entry[Any], mix: Mix, gather: Gatherer) -> None:
    if mix.final_set_h <= mix.initial_set_h:
        gather.add(
            entry.place("final_set"), f"{entry.label}final_set",
            f"{mix.final_set_h:g} h", f"after initial_set, {mix.initial_set_h:g} h",
        )  # fmt: skip


def _minutes(since: time, until: time) -> int:
    """Minutes on the clock from one time to the next time it shows the other."""
    passed = (until.hour - since.hour) * 60 + until.minute - since.minute
    return passed % _DAY_MIN
