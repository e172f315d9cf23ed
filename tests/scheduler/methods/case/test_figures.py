"""The method table: whole, marked, and open to the site's own figures."""

import tomllib
from math import inf, nan
from typing import Any, get_args

import pytest
from pydantic import ValidationError

from models.errors import InputError
from scheduler.methods.case.figures import TABLE, Figure, How, figures_for, table

RAW: dict[str, dict[str, Any]] = tomllib.loads(TABLE.read_text("utf-8"))
WRITTEN = [
    (f"{method}.{name}", entry)
    for method, entries in RAW.items()
    for name, entry in entries.items()
    if isinstance(entry, dict)
]


@pytest.mark.parametrize(("key", "entry"), WRITTEN)
def test_every_figure_has_a_source_and_a_mark(key: str, entry: dict[str, Any]) -> None:
    assert len(entry["source"]) >= 10, key
    assert entry["how"] in get_args(How), key


# UFGS-03311 (read): 20 °F; UFGS-03301A (read): 10 m² a litre and coat, 90 °F, 3 h.
# 20 °F / 1.8 = 11 K to the degree; (90 - 32) / 1.8 = 32 °C to the degree.
# UFGS-03301A (read): sand 50 mm. Indian public works commentary (read): pond from 24 h.
# Concrete Construction (read): 20 °F above the air, 50 °F a day. A US state's advice
# for decks (read): black film below about 60 °F, 16 °C. EN5466 (read): ease from 24 h.
# A trade note on steam (read): cool by at most 10 K/h.
@pytest.mark.parametrize(
    ("method", "name", "value"),
    [
        ("all", "cold_water", 11),
        ("compound_clear", "coat_dose", 0.1),
        ("compound_clear", "shade_from", 32),
        ("compound_clear", "rain_watch", 3),
        ("compound_clear", "coats", 2),
        ("wet_sand", "depth", 50),
        ("ponding", "bridge", 24),
        ("insulated_blankets", "above_air", 11),
        ("insulated_blankets", "drop", 28),
        ("plastic_sheet_black", "max_air_on", 16),
        ("forms_in_place", "ease_after", 24),
        ("live_steam", "fall", 10),
    ],
)
def test_figures_that_were_read(method: str, name: str, value: float) -> None:
    figure = table()[method].by_name[name]
    assert figure.typical == value
    assert figure.how == "read"


def test_a_method_takes_what_it_does_not_say_from_the_one_it_is_like() -> None:
    assert table()["compound_white"]["coat"] == table()["compound_clear"]["coat"]
    assert table()["burlap_single"]["lay"] != table()["burlap_double"]["lay"]


def test_the_sites_own_figure_counts_and_has_no_range() -> None:
    figures = figures_for({"burlap_double.lay": 25.0, "burlap_double.lay_people": 2})
    assert figures["burlap_double"]["lay"] == 25
    assert list(figures["burlap_double"].people("lay_people")) == [2]
    assert figures["burlap_single"]["lay"] == table()["burlap_single"]["lay"]
    assert table()["burlap_double"]["lay"] == 30, "the table itself is not touched"


def test_unknown_figures_are_refused_with_the_nearest_word() -> None:
    with pytest.raises(InputError) as caught:
        figures_for({"burlap_doubel.lay": 25.0, "all.nigth": 1.2})
    assert [(p.place, p.field) for p in caught.value.problems] == [
        ("site.toml", "rates.all.nigth"),
        ("site.toml", "rates.burlap_doubel.lay"),
    ]
    hints = [p.hint for p in caught.value.problems]
    assert hints == ["Nearest: all.night", "Nearest: burlap_double.lay"]


@pytest.mark.parametrize("value", [0.0, -3.0, nan, inf])
def test_a_figure_is_a_number_above_0(value: float) -> None:
    with pytest.raises(InputError, match=r"rates\.burlap_double\.lay: .*above 0"):
        figures_for({"burlap_double.lay": value})


def test_a_figure_out_of_order_is_refused() -> None:
    with pytest.raises(ValidationError, match="low <= typical <= high"):
        Figure(low=3, typical=2, high=4, unit="m", how="assumption", source="a slip")
