"""``keepdamp record``: the curing record of a surface, to be read and signed."""

from contextlib import ExitStack
from datetime import datetime
from typing import Annotated, Any

import typer

from exports.record.curing_record import SignedRecord
from exports.record.written import write_record
from models.errors import InputError, Problem
from scheduler.cli import screen
from scheduler.cli.arguments import Json, SiteFolder
from scheduler.cli.ledgers import Now, ledger, ledger_if_any, now_of, site_of, spoken_at
from scheduler.recorded.book import COMMAND, Book, read_book
from scheduler.recorded.signing import Signer, open_points, signature, signed_record

EXAMPLES = """Examples:

keepdamp record SITE --open

keepdamp record SITE P3-top

keepdamp record SITE P3-top --at "Tue 12:00"

keepdamp record SITE P3-top --sign "Ada Keel" --role "quality engineer"
"""


def record(
    site: SiteFolder,
    surface: Annotated[
        str,
        typer.Argument(
            metavar="SURFACE",
            help="Which surface, as P3-top; all that are placed if left out.",
            show_default=False,
        ),
    ] = "",
    open_: Annotated[
        bool,
        typer.Option(
            "--open", help="List what is missing for sign-off; write nothing."
        ),
    ] = False,
    sign: Annotated[
        str,
        typer.Option(
            metavar="NAME", help="Sign the record in the ledger.", show_default=False
        ),
    ] = "",
    role: Annotated[
        str, typer.Option(metavar="ROLE", help="As what you sign.", show_default=False)
    ] = "",
    with_gaps: Annotated[
        bool, typer.Option("--with-gaps", help="Sign though something is missing.")
    ] = False,
    at: Annotated[
        str,
        typer.Option(
            metavar="TIME",
            help='How far the record goes: 12:00, "Tue 12:00" or a full date. To the '
            "newest entry if left out, to now if it is signed.",
            show_default=False,
        ),
    ] = "",
    now: Now = "",
    as_json: Json = False,
) -> None:
    """Write the curing record of a surface to SITE/records, or sign it.

    A signed record is locked. What is written of the surface afterwards is shown as an
    amendment, with a digest of its own, until somebody signs that.
    """
    _require_sense(surface, sign, role, open_=open_, with_gaps=with_gaps)
    site_input = site_of(site)
    timezone = site_input.site.timezone
    with ExitStack() as stack:
        store = ledger_if_any(site, site_input.site.name)
        book = read_book(site_input, store and stack.enter_context(store))
        until = spoken_at(at, timezone, book.newest_time) if at else None
        if open_:
            _list(book, (surface,) if surface else book.surfaces, until, as_json)
            return
        if sign:
            moment = now_of(now, timezone)
            signer = Signer(sign.strip(), role.strip(), moment)
            entry = signature(
                book, surface, signer, until or moment, with_gaps=with_gaps
            )
            kept = store or stack.enter_context(ledger(site, site_input.site.name))
            kept.append([entry], moment)
            book = read_book(site_input, kept)
        made = _made(book, (surface,) if surface else book.surfaces, until)
    written = [path for one in made for path in write_record(site, one)]
    if as_json:
        paths = [str(path) for path in written]
        screen.say_json({"records": [_facts(one) for one in made], "written": paths})
        return
    for one in made:
        _tell(one)
    screen.say(f"\nWritten to {site / 'records'}: {len(written)} files")


def _require_sense(
    surface: str, sign: str, role: str, *, open_: bool, with_gaps: bool
) -> None:
    """Refuse words that do not go together."""
    wrong = ""
    if sign and not surface:
        wrong = "--sign without a surface"
    elif sign and not sign.strip():
        wrong = "--sign without a name"
    elif sign and open_:
        wrong = "--sign with --open"
    elif (role or with_gaps) and not sign:
        wrong = f"{'--role' if role else '--with-gaps'} without --sign"
    if wrong:
        wanted = (
            'as in: keepdamp record SITE P3-top --sign "Ada Keel" --role "engineer"'
        )
        raise InputError([Problem(COMMAND, "", wrong, wanted)])


def _made(
    book: Book, surfaces: tuple[str, ...], until: datetime | None
) -> list[SignedRecord]:
    """Make records; of all surfaces those that are placed."""
    if len(surfaces) == 1:
        return [signed_record(book, surfaces[0], until)]
    made = []
    for surface_id in surfaces:
        try:
            made.append(signed_record(book, surface_id, until))
        except InputError as error:
            screen.say(f"{surface_id}: {_why(error)}")
    return made


def _list(
    book: Book, surfaces: tuple[str, ...], until: datetime | None, as_json: bool
) -> None:
    """Say for each surface what a signature would have to do without."""
    missing: dict[str, tuple[str, ...]] = {}
    for surface_id in surfaces:
        try:
            lines = open_points(book, surface_id, until or book.newest_time)
        except InputError as error:
            if len(surfaces) == 1:
                raise
            lines = (_why(error),)
        missing[surface_id] = lines
    if as_json:
        screen.say_json(missing)
        return
    for surface_id, lines in missing.items():
        if not lines:
            screen.say(f"{surface_id}: signed, nothing is missing")
        for line in lines:
            screen.say(f"{surface_id}: {line}")


def _why(error: InputError) -> str:
    return error.problems[0].found


def _facts(signed: SignedRecord) -> dict[str, Any]:
    made = signed.record
    return {
        "surface": made.surface_id,
        "verdict": made.verdict,
        "is_over": made.is_over,
        "not_met": list(made.not_met),
        "missing": list(made.missing),
        "digest": signed.digest,
        "signatures": [one.model_dump() for one in signed.signatures],
        "amended": list(signed.amended),
    }


def _tell(signed: SignedRecord) -> None:
    made = signed.record
    screen.say(f"{made.surface_id}: {made.verdict}", "bold")
    for line in signed.amended:
        screen.say(f"  amended after signing: {line}")
    for line in made.not_met:
        screen.say(f"  not met: {line}")
    for line in made.missing:
        screen.say(f"  missing: {line}")
    for one in signed.signatures:
        gaps = f", with {one.gaps} missing" if one.gaps else ""
        role = f", {one.role}" if one.role else ""
        screen.say(
            f"  signed by {one.name}{role}, {one.when} (entry {one.entry}){gaps}"
        )
    screen.say(f"  digest {signed.digest}")
