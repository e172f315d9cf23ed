"""Entries, issues and visits of an invented site, as short as they can be."""

from datetime import UTC, datetime, timedelta
from uuid import UUID

from models.records import Found, Happening, Issue, NewEntry, Told, VisitIdentity

TUESDAY = datetime(2027, 5, 4, 1, 10, tzinfo=UTC)


def entry(about: str = "P1-top", **fields: object) -> NewEntry:
    """A cover found dry and refilled, or what ``values`` says."""
    values: Happening = Found(condition="dry", litres_l=180)
    base: dict[str, object] = {
        "about": about, "happened_at": TUESDAY, "by": "AK", "values": values,
    }  # fmt: skip
    return NewEntry.model_validate(base | fields)


def issue(number: int = 1, **fields: object) -> Issue:
    """A published week whose texts are plainly made up."""
    base: dict[str, object] = {
        "number": number, "published_at": TUESDAY + timedelta(days=number),
        "input_digest": "ab" * 32, "seed": 1, "cost": 12.5,
        "forecast": f'{{"of":"issue {number}"}}', "roster": f'{{"number":{number}}}',
    }  # fmt: skip
    return Issue.model_validate(base | fields)


def visit(count: int, issue_number: int = 1, **fields: object) -> VisitIdentity:
    """A re-wetting that was first published in that issue."""
    told = Told(
        starts_at=TUESDAY, ends_at=TUESDAY, start_by_at=TUESDAY, crew_id="owl",
        what="RE-WET P1 top", place="Quay slab", water="", people=2,
    )  # fmt: skip
    base: dict[str, object] = {
        "id": str(UUID(int=count)), "issue_number": issue_number,
        "born_in": issue_number, "surface_id": "P1-top", "duty": "rewet",
        "recurs": True, "told": told, "leads": True,
        "told_hash": "t", "rest_hash": "r", "created_at": TUESDAY,
        "changed_at": TUESDAY, "visit_id": f"P1-top/rewet/{count}",
    }  # fmt: skip
    return VisitIdentity.model_validate(base | fields)
