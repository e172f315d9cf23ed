"""Numbers in records and formulas carry their unit in the name."""

import importlib
import inspect
import pkgutil
import re
from collections.abc import Callable
from types import ModuleType
from typing import Any, get_args

import pytest
from pydantic import BaseModel

UNITS = {
    "m": "m", "mm": "mm", "mm_d": "mm/d", "m2": "m²", "m3": "m³", "kg_m3": "kg/m³",
    "l": "L", "l_m_d": "L/(m d)", "m_m2": "m/m²",
    "c": "°C", "k": "K", "kpa": "kPa", "mpa": "MPa", "m_s": "m/s",
    "kg_m2_h": "kg/(m² h)", "kg_m2_h_kpa": "kg/(m² h kPa)", "kg_m2": "kg/m²",
    "m2h_kpa_kg": "m² h kPa/kg", "l_m2": "L/m²", "l_m2_h": "L/(m² h)", "l_min": "L/min",
    "h": "h", "per_h": "1/h", "days": "d", "min": "min", "s": "s",
    "j_mol": "J/mol", "j_kg": "J/kg",
    "w_m2": "W/m²", "m2k_w": "m² K/W", "kj_m2k": "kJ/(m² K)",
    "deg": "°", "pct": "%", "fraction": "-",
}  # fmt: skip
SUFFIX = re.compile("_(" + "|".join(sorted(UNITS, key=len, reverse=True)) + ")$")
#: Prices, weights, exponents and ratios have no unit; days are spelt out on their own.
PLAIN = re.compile(
    r"cost|factor|_power$|_bound|^amount|per_min|^call_out|^missed_|^rates|^ratios|^days|^degree_days"
)


def modules(*packages: str) -> list[ModuleType]:
    return [
        importlib.import_module(info.name)
        for name in packages
        for info in pkgutil.walk_packages(
            importlib.import_module(name).__path__, name + "."
        )
    ]


def float_fields() -> list[tuple[str, str]]:
    found: set[tuple[str, str]] = set()
    for module in modules("models.records"):
        for _, cls in inspect.getmembers(module, inspect.isclass):
            if not issubclass(cls, BaseModel) or cls is BaseModel:
                continue
            for name, field in cls.model_fields.items():
                kinds: set[Any] = {field.annotation, *get_args(field.annotation)}
                if float in kinds:
                    found.add((cls.__name__, name))
    return sorted(found)


def formulas() -> list[Callable[..., Any]]:
    return [
        function
        for module in modules("models.hydration", "models.drying")
        if module.__name__.rsplit(".", 1)[1]
        in {
            "air", "evaporation", "bleed", "cover", "film",
            "equivalent_age", "setting", "strength",
        }
        for name, function in inspect.getmembers(module, inspect.isfunction)
        if function.__module__ == module.__name__ and not name.startswith("_")
    ]  # fmt: skip


@pytest.mark.parametrize(("record", "field"), float_fields())
def test_record_field_names_its_unit(record: str, field: str) -> None:
    assert SUFFIX.search(field) or PLAIN.search(field), (
        f"{record}.{field}: no unit of {sorted(UNITS)}"
    )


@pytest.mark.parametrize("function", formulas(), ids=lambda f: f.__name__)
def test_docstring_unit_is_that_of_the_name(function: Callable[..., Any]) -> None:
    doc = inspect.getdoc(function) or ""
    for name in inspect.signature(function).parameters:
        match = SUFFIX.search(name)
        if match is None:
            continue
        part = re.search(
            rf"^[^\n]*\b{name}\b[^\n]* : .*?\[([^\]]+)\]", doc, re.M | re.S
        )
        assert part, f"{function.__name__}({name}): no [unit] in the docstring"
        assert part[1] == UNITS[match[1]], f"{function.__name__}({name}): [{part[1]}]"
