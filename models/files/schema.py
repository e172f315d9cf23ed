"""JSON Schema of every input and of the two results, for editors and other programs.

The schemas of inputs are built from the tables the files are read by, so an editor
completes the very words and bounds the reader asks for. Checks between values are the
reader's alone.
"""

from collections.abc import Callable, Iterable
from datetime import time
from typing import Any

from models.files.reading.columns import ColumnReading, Inner, Sort, Table
from models.files.reading.row_tables import LOG, POUR, READING, WEATHER
from models.files.reading.site_tables import LISTED, SINGLE, SITE
from models.files.reading.wanted import in_file_unit
from models.quantities import UNITS
from models.records import AuditReport, Roster, Site

DRAFT = "https://json-schema.org/draft/2020-12/schema"

Schema = dict[str, Any]

_INSTANT = (
    r"^\d{4}-\d{2}-\d{2}[T ]\d{2}:\d{2}(:\d{2}(\.\d+)?)?( ?(Z|[+-]\d{2}:?\d{2}))?$"
)
_CLOCK = r"^\d{2}:\d{2}(:\d{2})?$"
_DATE = r"^\d{4}-\d{2}-\d{2}$"
_BREAK = r"^\d{2}:\d{2}\s*(-|–|to)\s*\d{2}:\d{2}$"


def schemas() -> dict[str, Schema]:
    """Return all schemas by name.

    ``site`` is that of ``site.toml``; ``pour``, ``weather_hour``, ``reading`` and
    ``log`` are those of one row of a CSV file or workbook; ``roster`` and
    ``audit_report`` are those of the results as JSON.
    """
    return {
        "site": _site(),
        "pour": _root("One row of pours.csv or pours.xlsx", _table(POUR)),
        "weather_hour": _root("One row of weather.csv", _table(WEATHER)),
        "reading": _root("One row of readings.csv", _table(READING)),
        "log": _root("One row of a filled log sheet", _table(LOG)),
        "roster": _root("A roster", Roster.model_json_schema()),
        "audit_report": _root("An audit report", AuditReport.model_json_schema()),
    }


def _root(title: str, schema: Schema) -> Schema:
    return {"$schema": DRAFT, **schema, "title": title}


def _site() -> Schema:
    tables: Schema = {"site": _table(SITE)}
    required = ["site"]
    for inner in LISTED:
        tables[inner.key] = _array(inner)
        if Site.model_fields[inner.field].is_required():
            tables[inner.key]["minItems"] = 1
            required.append(inner.key)
    for inner in SINGLE:
        tables[inner.key] = _table(inner.table)
    rate = {"type": "number", "exclusiveMinimum": 0}
    tables["rates"] = {
        "type": "object",
        "description": 'm² per worker-hour, as in "burlap_double.lay" = 40',
        "additionalProperties": {
            "anyOf": [rate, {"type": "object", "additionalProperties": rate}]
        },
    }
    return _root("site.toml", _object(tables, required))


def _array(inner: Inner) -> Schema:
    return {"type": "array", "items": _table(inner.table)}


def _table(table: Table[Any]) -> Schema:
    keys: Schema = {c.key: _value(c) for c in table.readings}
    keys |= {inner.key: _array(inner) for inner in table.inner}
    return _object(keys, [c.key for c in table.readings if c.required])


def _object(properties: Schema, required: Iterable[str]) -> Schema:
    return {
        "type": "object",
        "properties": properties,
        "required": list(required),
        "additionalProperties": False,
    }


def _value(column: ColumnReading) -> Schema:
    schema = _BY_SORT[column.sort](column)
    if column.default not in (None, (), ""):
        schema["default"] = _plain(column.default, column)
    return schema


def _quantity(column: ColumnReading) -> Schema:
    bounds, named = column.bounds, [name for name in UNITS[column.kind] if name]
    number: Schema = {"type": "number"}
    for value, is_open, inside, outside in (
        (bounds.low, bounds.low_open, "minimum", "exclusiveMinimum"),
        (bounds.high, bounds.high_open, "maximum", "exclusiveMaximum"),
    ):
        if value is not None:
            number[outside if is_open else inside] = in_file_unit(value, column)
    text: Schema = {"type": "string", "pattern": r"^\s*[+-]?\d"}
    units = f"; units: {', '.join(named)}" if named else ""
    bare = f", in {column.unit} if bare" if column.unit else ""
    return {"anyOf": [number, text], "description": f"{column.kind}{bare}{units}"}


def _whole(column: ColumnReading) -> Schema:
    schema: Schema = {"type": "integer"}
    if column.bounds.low is not None:
        schema["minimum"] = int(column.bounds.low)
    if column.bounds.high is not None:
        schema["maximum"] = int(column.bounds.high)
    return schema


def _text(column: ColumnReading) -> Schema:
    del column
    return {"type": "string", "maxLength": 200}


def _id(column: ColumnReading) -> Schema:
    words = {"description": f"id of a {column.refers}"} if column.refers else {}
    return {"type": ["string", "integer"], "minLength": 1, "maxLength": 40} | words


def _list_of(column: ColumnReading, item: Schema) -> Schema:
    least = int(column.bounds.low or 0)
    return {"type": "array", "items": item, "minItems": least, "uniqueItems": True}


def _pairs(column: ColumnReading) -> Schema:
    pair = {
        "type": "array",
        "prefixItems": [_quantity(part) for part in column.pair],
        "items": False,
        "minItems": len(column.pair),
    }
    return {"type": "array", "items": pair, "minItems": 1}


_BY_SORT: dict[Sort, Callable[[ColumnReading], Schema]] = {
    "quantity": _quantity,
    "whole": _whole,
    "flag": lambda _: {"type": "boolean"},
    "word": lambda column: {"enum": list(column.words)},
    "words": lambda column: _list_of(column, {"enum": list(column.words)}),
    "text": _text,
    "texts": lambda column: _list_of(column, _id(column)),
    "id": _id,
    "instant": lambda _: {"type": "string", "pattern": _INSTANT},
    "clock": lambda _: {"type": "string", "pattern": _CLOCK},
    "date": lambda _: {"type": "string", "pattern": _DATE},
    "breaks": lambda column: _list_of(column, {"type": "string", "pattern": _BREAK}),
    "pairs": _pairs,
}


def _plain(default: object, column: ColumnReading) -> object:
    """Say a default as a file would."""
    if isinstance(default, time):
        return f"{default:%H:%M}"
    if isinstance(default, tuple):
        return list(default)
    if column.kind and isinstance(default, int | float):
        return in_file_unit(default, column)
    return default
