"""Visits as they are handed out, and ids in the order they are asked for."""

from collections.abc import Callable
from datetime import datetime, timedelta
from itertools import count
from uuid import UUID

from models.records import Horizon, Told, ToldVisit
from tests.builders import MONDAY

WEEK = Horizon(starts_at=MONDAY, ends_at=MONDAY + timedelta(days=7))


def ids() -> Callable[[], str]:
    """Ids as by chance, the same in each run."""
    numbers = count(1)
    return lambda: str(UUID(int=next(numbers)))


def at(minute: int) -> datetime:
    return MONDAY + timedelta(minutes=minute)


def told(start_min: int, crew_id: str = "red", **fields: object) -> Told:
    """Half an hour of two people, to be begun within the hour."""
    base: dict[str, object] = {
        "starts_at": at(start_min), "ends_at": at(start_min + 30),
        "start_by_at": at(start_min + 60), "crew_id": crew_id,
        "what": "RE-WET Quay slab 300 m²", "place": "Quay", "water": "180 L",
        "people": 2,
    }  # fmt: skip
    return Told.model_validate(base | fields)


def visit(
    visit_id: str, start_min: int, crew_id: str = "red", **fields: object
) -> ToldVisit:
    """A re-wet of the surface its id begins with."""
    own = {
        name: fields.pop(name) for name in tuple(fields) if name in Told.model_fields
    }
    base: dict[str, object] = {
        "visit_id": visit_id, "surface_id": visit_id.split("/")[0], "duty": "rewet",
        "recurs": True, "told": told(start_min, crew_id, **own), "rest_hash": "rest",
    }  # fmt: skip
    return ToldVisit.model_validate(base | fields)
