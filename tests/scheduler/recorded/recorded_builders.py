"""A slab under its cover since Sunday, its re-wets planned by hand, and a ledger.

P1 is placed on Sunday from 07:00 to 11:00, covered at 15:00 and wetted on Monday at
05:30, half an hour before the week; its rule asks for three days. A re-wet is planned
every six hours from Monday 07:00 on.
"""

from collections.abc import Sequence
from datetime import datetime, timedelta
from functools import cache
from pathlib import Path

from models.ledger.sqlite_store import open_sqlite
from models.records import (
    CoversTaken,
    Entry,
    Happening,
    Horizon,
    Issue,
    NewEntry,
    Profile,
    Roster,
    SiteInput,
    SurfaceWork,
    Task,
    Visit,
    VisitIdentity,
    Weather,
    WorkDone,
    WorkList,
)
from models.records.criterion import DaysRow
from scheduler.clocked import clock
from scheduler.methods.expand import expand
from scheduler.methods.surfaces import surfaces_of
from scheduler.recorded.book import Book
from scheduler.recorded.life import Life, life_of
from tests.builders import MONDAY, pour, site_input, weather
from tests.models.ledger.ledger_builders import visit as identity

TOP = "P1-top"
#: Sunday 11:00 on the site's clock; the week begins on Monday at 06:00.
PLACED = MONDAY - timedelta(hours=19)
REWET_EVERY_H = 6


def at(hours: float) -> datetime:
    """An instant, hours after the week's start on Monday at 06:00."""
    return MONDAY + timedelta(hours=hours)


def three_days() -> Profile:
    """Three plain days, and nothing else that needs a proof."""
    return Profile(
        id="seven_days", title="Three days", edition="invented",
        maturity="arrhenius", ends=(DaysRow(days=3, clause="its only clause"),),
        inspections_per_shift=0,
    )  # fmt: skip


@cache
def given(**fields: object) -> SiteInput:
    """The site with the slab of Sunday, under wet burlap."""
    slab = pour(
        "P1",
        **{
            "placing_starts_at": PLACED - timedelta(hours=4),
            "placing_ends_at": PLACED,
            "covered_at": PLACED + timedelta(hours=4),
            "wetted_at": MONDAY - timedelta(minutes=30),
            "method": "burlap_double",
            **fields,
        },
    )
    base = site_input(slab)
    return base.model_copy(
        update={
            "profiles": {"seven_days": three_days()},
            "weather": grey(),
            "horizon": Horizon(starts_at=MONDAY, ends_at=at(4 * 24)),
        }
    )


def grey() -> Weather:
    """Damp days without sun, in which six hours dry no burlap."""
    hours = weather(hours=7 * 24, swing_k=3, humidity=0.8, wind_m_s=1).hours
    dull = (hour.model_copy(update={"solar_w_m2": 0.0}) for hour in hours)
    return Weather(wind_height_m=10, hours=tuple(dull))


def work_of(base: SiteInput) -> WorkList:
    """All that is to be done in the week."""
    clocked = clock(base, surfaces_of(base))
    asked = (clocked.site_input, clocked.surfaces, clocked.hydration, clocked.drying)
    return expand(*asked, clocked.held)


def visit(task: Task, number: int, starts_at: datetime) -> Visit:
    """A visit of the red gang."""
    return Visit(
        id=f"{task.id}/{number}" if number else task.id, task_id=task.id,
        surface_id=task.surface_id, crew_id="red", shift_id="",
        starts_at=starts_at, ends_at=starts_at + timedelta(minutes=task.duration_min),
        water_point_id="tap" if task.water else None,
    )  # fmt: skip


@cache
def planned() -> Roster:
    """A week with a re-wet every six hours until curing is over."""
    (own,) = work_of(given()).surfaces
    return roster(given(), own, _rewets(own))


def roster(base: SiteInput, own: SurfaceWork, visits: Sequence[Visit]) -> Roster:
    """A roster by hand."""
    return Roster(
        site_name=base.site.name, timezone=base.site.timezone, horizon=base.horizon,
        surfaces=(own,), visits=tuple(visits), objective=(), cost=0, seed=1,
        solver_words="by hand",
    )  # fmt: skip


def _rewets(own: SurfaceWork) -> list[Visit]:
    assert own.rewet is not None
    hours = range(1, own.ends_min // 60, REWET_EVERY_H)
    return [visit(own.rewet, n, at(h)) for n, h in enumerate(hours, start=1)]


def issue(base: SiteInput, of: Roster, number: int = 1, **fields: object) -> Issue:
    """An issue of Sunday evening."""
    values: dict[str, object] = {
        "number": number, "published_at": at(-8 + number), "input_digest": "ab" * 32,
        "seed": 1, "cost": 0, "forecast": base.weather.model_dump_json(),
        "roster": of.model_dump_json(),
    }  # fmt: skip
    return Issue.model_validate(values | fields)


def identities(of: Roster) -> list[VisitIdentity]:
    """An identity for each visit, its number the visit's place."""
    return [
        identity(n, visit_id=one.id, surface_id=one.surface_id)
        for n, one in enumerate(of.visits, start=1)
    ]


def entry(
    number: int, hours: float, values: Happening, about: str = TOP, **fields: object
) -> Entry:
    """Something that happened, written down five minutes later."""
    base: dict[str, object] = {
        "number": number, "about": about, "happened_at": at(hours), "by": "AK",
        "written_at": at(hours) + timedelta(minutes=5), "values": values,
    }  # fmt: skip
    return Entry.model_validate(base | fields)


def done(of: Roster, number: int, **fields: object) -> WorkDone:
    """Say that the re-wet of that number was done."""
    own = next(v for v in of.visits if v.id == f"{TOP}/rewet/{number}")
    place = of.visits.index(own) + 1
    values: dict[str, object] = {
        "work": "rewet", "task_id": own.task_id, "visit_id": own.id,
        "issue_number": 1, "identity_id": identity(place).id,
    }  # fmt: skip
    return WorkDone.model_validate(values | fields)


def all_done(but: Sequence[int] = (), first: int = 1, **fields: object) -> list[Entry]:
    """Every re-wet done as planned and found wet, but for some."""
    written: list[Entry] = []
    of = planned()
    for one in of.visits:
        number = int(one.id.rpartition("/")[2])
        if number in but:
            continue
        hours = (one.ends_at - at(0)) / timedelta(hours=1)
        said = {"found": "wet", "started_at": one.starts_at, **fields}
        values = done(of, number, **said)
        written.append(entry(first + len(written), hours, values))
    return written


def covers_off() -> list[Entry]:
    """All done, covers away on Tuesday from 08:00 to 10:00; nobody looked at 13:00."""
    entries = all_done(but=(6,))
    number = len(entries) + 1
    unseen = done(planned(), 6, started_at=at(31))
    taken = CoversTaken(back_at=at(28))
    return [*entries, entry(number, 26, taken), entry(number + 1, 31.7, unseen)]


def life(entries: Sequence[Entry] = (), hours: float = 60) -> Life:
    """The slab's life up to some hours after the week's start."""
    return life_in(given(), planned(), entries, hours)


def life_in(
    base: SiteInput, of: Roster, entries: Sequence[Entry], hours: float
) -> Life:
    """The life of a pour's top in a site with one issue."""
    places = {one.id: one.visit_id or "" for one in identities(of)}
    book = Book(base, tuple(entries), (issue(base, of),), {1: places})
    return life_of(book, TOP, at(hours))


def ledger_of(
    folder: Path, base: SiteInput, of: Roster, entries: Sequence[NewEntry] = ()
) -> None:
    """Write a ledger into a folder."""
    with open_sqlite(folder / "ledger.sqlite") as store:
        store.publish(issue(base, of), identities(of))
        for one in entries:
            new = one.model_dump(exclude={"number", "written_at"})
            written_at = one.happened_at + timedelta(minutes=5)
            store.append([NewEntry.model_validate(new)], written_at)
