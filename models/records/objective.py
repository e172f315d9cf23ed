"""What a roster is judged by: the parts of its cost, each with its unit and prices."""

from typing import Literal, NamedTuple

from models.records.base import Record
from models.records.work import Age

PartName = Literal[
    "dry", "low_water", "late", "missed", "call_out", "overtime", "travel", "labour",
    "water", "covers_short", "changes",
]  # fmt: skip


class PartRule(NamedTuple):
    """How a part of the objective is counted and priced.

    Attributes
    ----------
    title : str
        As people read it.
    unit : str
        Of its amount.
    prices : tuple of str
        Fields of ``Costs`` that price it, none if it is told but not priced.
    formula : str
        Its cost.
    """

    title: str
    unit: str
    prices: tuple[str, ...]
    formula: str


#: In the order in which they are told. Solver and audit count each on their own.
OBJECTIVE: dict[PartName, PartRule] = {
    "dry": PartRule(
        "Dry time",
        "min",
        (
            "dry_cost_per_min", "area_power", "area_floor_factor", "young_24h_factor",
            "young_72h_factor", "uncovered_factor",
        ),
        "sum over dry minutes of dry_cost_per_min × max(area_floor_factor, "
        "(area / 100 m²) ^ area_power) × risk × age factor × factor while uncovered",
    ),
    "low_water": PartRule(
        "Little water left",
        "min",
        ("low_water_factor",),
        "sum over minutes in which a cover has rewet_at_reserve of its water or less, "
        "dry ones too, of low_water_factor × the price of a dry minute",
    ),
    "late": PartRule(
        "Late work",
        "min",
        ("late_cost_per_min",),
        "sum over tasks of minutes late × late_cost_per_min, at most the price of "
        "leaving the task out",
    ),
    "missed": PartRule(
        "Work left undone",
        "tasks",
        ("missed_inspection", "missed_work"),
        "sum over tasks that nobody does, and those that fall away with them, of their "
        "price",
    ),
    "call_out": PartRule(
        "Call-outs",
        "call-outs",
        ("call_out", "call_out_hour", "call_out_min_h"),
        "sum over call-outs of call_out + max(call_out_min_h, hours away) × "
        "call_out_hour",
    ),
    "overtime": PartRule(
        "Overtime",
        "min",
        ("overtime_cost_per_min",),
        "minutes beyond the end of shifts × overtime_cost_per_min",
    ),
    "travel": PartRule(
        "Walking",
        "min", ("travel_cost_per_min",), "minutes of walking × travel_cost_per_min"
    ),
    "labour": PartRule(
        "Labour",
        "min",
        ("worker_minute_cost",),
        "minutes of all people on visits × worker_minute_cost",
    ),
    "water": PartRule(
        "Water", "L", ("litre_cost",), "litres that visits draw × litre_cost"
    ),
    "covers_short": PartRule(
        "Covers in use elsewhere",
        "m²", (), "not priced: the dryness that missing covers leave is"
    ),
    "changes": PartRule(
        "Changed visits",
        "visits",
        ("change_cost", "change_beyond_min"),
        "visits of a published roster that are dropped, added, given to another crew "
        "or moved by more than change_beyond_min × change_cost",
    ),
}  # fmt: skip


class ObjectivePart(Record):
    """One part of the objective in its own unit and in cost."""

    name: PartName
    amount: float
    unit: str
    cost: float


class DryShare(Record):
    """Dry minutes of one kind, the area that was dry, and their price in all."""

    bare: bool
    age: Age
    minutes: int
    area_time_m2_h: float
    cost: float
