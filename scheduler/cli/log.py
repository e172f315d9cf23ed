"""``keepdamp log``: what happened on the site, written down once."""

from contextlib import ExitStack
from datetime import datetime
from pathlib import Path
from typing import Annotated, Any

import typer
from rich.table import Table
from rich.text import Text

from exports.text import one_line
from models.errors import InputError, Place, Problem
from models.files.log_sheet import LogEntries, read_log_row, read_log_sheet
from models.files.reading.problems import ProblemCollector
from models.ledger.standing import standing
from models.ledger.store import Store
from models.local_clock import LocalClock
from models.records import Entry, IssueHead, Site
from models.wording import did_you_mean, one_of, say, tidy
from scheduler.cli import screen
from scheduler.cli.arguments import Json, SiteFolder
from scheduler.cli.fit import say_fit
from scheduler.cli.ledgers import Now, ledger, ledger_if_any, now_of, site_of
from scheduler.logbook.kinds import KINDS, spoken
from scheduler.logbook.known import Known
from scheduler.logbook.take import HandedIn, take
from scheduler.logbook.words import entry_words

_COMMAND = Place("keepdamp log")
EXAMPLES = """Examples:

keepdamp log SITE placing-started P3 --at "Tue 07:40" --by AK

keepdamp log SITE found P3-top dry --at 03:10 --litres 180 --by AK

keepdamp log SITE work-done P3-top/rewet/2 --at 03:10 --by AK

keepdamp log SITE work-failed P3-top rewet --why "no water" --by AK

keepdamp log SITE slipped P4 --to "Wed 10:00" --by JM

keepdamp log SITE crew-out birch --from "Fri 07:00" --to "Fri 17:00" --people 2 --by JM

keepdamp log SITE water-out tanker --from 10:00 --to 14:00 --by JM

keepdamp log SITE covers-taken P3-top --at 09:00 --to 11:30 --by JM

keepdamp log SITE reading P3-top core --temperature 31.5 --at 08:00 --by QE

keepdamp log SITE weather-observed --temperature 24 --humidity 55 --wind 4 --by JM

keepdamp log SITE withdrawn --correct 7 --by AK

keepdamp log SITE --sheet filled.xlsx

keepdamp log SITE
"""


def _said(help_: str, metavar: str = "WORD") -> Any:  # noqa: ANN401 - typer's own
    return typer.Option(metavar=metavar, help=help_, show_default=False)


def log(
    site: SiteFolder,
    what: Annotated[
        str,
        typer.Argument(
            metavar="WHAT",
            help=f"What happened: {', '.join(map(spoken, KINDS))}. Without it the "
            "ledger is listed.",
            show_default=False,
        ),
    ] = "",
    about: Annotated[
        str,
        typer.Argument(
            metavar="ABOUT",
            help="Pour, surface, crew or water point; or a visit, as its sheet has it.",
            show_default=False,
        ),
    ] = "",
    word: Annotated[
        str,
        typer.Argument(
            metavar="WORD",
            help="Condition found: wet, damp, patchy, dry, frozen, unknown. Of work: "
            "which, such as rewet. Of a reading: surface or core.",
            show_default=False,
        ),
    ] = "",
    at: Annotated[
        str,
        _said('When it happened: 03:10, "Tue 07:40" or a full date. Now if left out.'),
    ] = "",
    by: Annotated[str, _said("Initials of who says so.", "INITIALS")] = "",
    from_: Annotated[
        str, typer.Option("--from", metavar="TIME", help="From when.")
    ] = "",
    to: Annotated[
        str, _said("To when; of a pour that slips: its new start.", "TIME")
    ] = "",
    litres: Annotated[str, _said("Water that refilled the cover.", "VOLUME")] = "",
    area: Annotated[str, _said("Area of it, if not all.", "AREA")] = "",
    found: Annotated[str, _said("With work: the condition found before.")] = "",
    people: Annotated[str, _said("How many of a crew are out.", "COUNT")] = "",
    why: Annotated[str, _said("Why work could not be done.", "TEXT")] = "",
    temperature: Annotated[str, _said("Of the concrete, or the air.", "DEGREES")] = "",
    humidity: Annotated[str, _said("Of the air.", "PERCENT")] = "",
    wind: Annotated[str, _said("At the height of the site's weather.", "SPEED")] = "",
    rain: Annotated[str, _said("In that hour.", "DEPTH")] = "",
    solar: Annotated[str, _said("Sun on level ground.", "W/m2")] = "",
    cloud: Annotated[str, _said("Of the sky.", "PERCENT")] = "",
    note: Annotated[str, _said("Anything else.", "TEXT")] = "",
    correct: Annotated[
        str, _said("Number of the entry in whose place this one stands.", "NUMBER")
    ] = "",
    sheet: Annotated[
        Path | None,
        typer.Option(
            metavar="FILE",
            help="Filled visits table, or a log as CSV or workbook (keepdamp schema "
            "log says its columns).",
            show_default=False,
        ),
    ] = None,
    fit: Annotated[
        bool,
        typer.Option("--fit", help="List what the finds teach of the site's covers."),
    ] = False,
    now: Now = "",
    as_json: Json = False,
) -> None:
    """Write down what happened on the site, or list what is in the ledger.

    Nothing is ever overwritten: a correction is a new entry that names the old one.
    """
    said: dict[str, object] = {
        "at": at, "by": by, "from": from_, "to": to, "litres": litres, "area": area,
        "found": found, "people": people, "why": why, "temperature": temperature,
        "humidity": humidity, "wind": wind, "rain": rain, "solar": solar,
        "cloud": cloud, "note": note, "correct": correct,
    }  # fmt: skip
    if fit:
        _require_no_words(said | {"fit with words": what or about or sheet})
        say_fit(site, as_json=as_json)
        return
    site_input = site_of(site)
    here = site_input.site
    moment = now_of(now, here.timezone)
    if not what and sheet is None:
        _require_no_words(said)
        with ExitStack() as stack:
            store = ledger_if_any(site, here.name)
            _list(store and stack.enter_context(store), here, as_json)
        return
    problems = ProblemCollector()
    rows = (
        _row(what, about, word, said, problems)
        if sheet is None
        else _sheet_rows(sheet, what, said, problems)
    )
    with ExitStack() as stack:
        store = ledger_if_any(site, here.name)
        known = Known(site_input, store and stack.enter_context(store))
        handed = take(rows, known, moment, problems, at_once=sheet is None)
        problems.raise_if_any()
        written: tuple[Entry, ...] = ()
        if handed.entries:
            store = store or stack.enter_context(ledger(site, here.name))
            written = store.append(handed.entries, moment)
    _tell(written, handed, here, as_json)


def _row(
    what: str,
    about: str,
    word: str,
    said: dict[str, object],
    problems: ProblemCollector,
) -> LogEntries:
    """Put the words of a command into a row."""
    rule = next((rule for kind, rule in KINDS.items() if kind == tidy(what)), None)
    if rule is None:
        words = [spoken(kind) for kind in KINDS]
        hint = did_you_mean(what, words)
        problems.add(_COMMAND, "", say(what), one_of(words), hint)
        return ()
    raw = said | {"what": what, ("visit" if "/" in about else "about"): about}
    if word and not rule.word:
        wanted = f"nothing more after {spoken(tidy(what))} {about}"
        problems.add(_COMMAND, "", say(word), wanted)
    elif word:
        raw[rule.word] = word
    return (read_log_row(raw, _COMMAND, problems),)


def _sheet_rows(
    sheet: Path, what: str, said: dict[str, object], problems: ProblemCollector
) -> LogEntries:
    if what:
        wanted = "either a sheet or what happened"
        problems.add(_COMMAND, "", f"{say(what)} with --sheet", wanted)
    _require_no_words(said)
    return read_log_sheet(sheet, problems)


def _require_no_words(said: dict[str, object]) -> None:
    given = [key for key, text in said.items() if text]
    if given:
        found = f"--{given[0]} alone"
        wanted = "what happened, as in: keepdamp log SITE found P3-top dry"
        raise InputError([Problem(_COMMAND, "", found, wanted)])


def _tell(
    written: tuple[Entry, ...], handed: HandedIn, site: Site, as_json: bool
) -> None:
    if as_json:
        entries = [entry.model_dump(mode="json") for entry in written]
        screen.say_json({"written": entries, "known_already": handed.known_already})
        return
    clock = LocalClock(site.timezone)
    for entry in written:
        when = clock.day_time(entry.happened_at)
        late = "; written late" if entry.late else ""
        words = one_line(entry_words(entry, clock, site.units))
        screen.say(f"Entry {entry.number}: {words}; {when}, {entry.by}{late}")
    if count := handed.known_already:
        rows = "row was" if count == 1 else "rows were"
        screen.say(f"{count} {rows} in the ledger already, word for word.")
    elif not written:
        screen.say("No row is filled in: nothing to write.")


def _list(store: Store | None, site: Site, as_json: bool) -> None:
    entries, issues = (store.entries(), store.issues()) if store else ((), ())
    if as_json:
        screen.say_json(
            {
                "entries": [entry.model_dump(mode="json") for entry in entries],
                "issues": [issue.model_dump(mode="json") for issue in issues],
                "seal": store.seal() if store else "",
            }
        )
        return
    if not entries and not issues:
        screen.say("The ledger is empty.")
        return
    screen.say_table(_table(entries, issues, site))


def _table(
    entries: tuple[Entry, ...], issues: tuple[IssueHead, ...], site: Site
) -> Table:
    """List entries and issues in the order in which they were written."""
    clock = LocalClock(site.timezone)
    table = Table(box=None, pad_edge=False)
    for heading in ("Entry", "When", "What happened", "By", ""):
        table.add_column(heading)
    by_number = {entry.corrects: entry.number for entry in entries if entry.corrects}
    stands = {entry.number for entry in standing(entries)}
    rows: list[tuple[datetime, int, tuple[str, ...]]] = []
    for entry in entries:
        marks = [f"corrects {entry.corrects}"] if entry.corrects else []
        if entry.number not in stands and entry.number in by_number:
            marks.append(f"corrected by {by_number[entry.number]}")
        if entry.late:
            marks.append(f"late, written {clock.day_time(entry.written_at)}")
        words = one_line(entry_words(entry, clock, site.units))
        cells = (clock.day_time(entry.happened_at), words, one_line(entry.by))
        rows.append(
            (entry.written_at, 0, (str(entry.number), *cells, "; ".join(marks)))
        )
    for issue in issues:
        words = f"ISSUE {issue.number} published"
        when = clock.day_time(issue.published_at)
        rows.append((issue.published_at, 1, ("", when, words, "", issue.note)))
    for _, _, cells_of in sorted(rows, key=lambda one: one[:2]):
        table.add_row(*(Text(cell) for cell in cells_of))
    return table
