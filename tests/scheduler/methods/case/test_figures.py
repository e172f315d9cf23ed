"""The method table: whole, marked, and open to the site's own figures."""

import tomllib
from math import inf, nan
from typing import Any, get_args

import pytest
from pydantic import ValidationError

from models.records import SiteInput
from scheduler.methods.case.figures import (
    TABLE,
    Figure,
    How,
    figures_for,
    refused_rates,
    table,
)
from tests.builders import site_input

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


def with_rates(rates: dict[str, float]) -> SiteInput:
    given = site_input()
    site = given.site.model_copy(update={"rates": rates})
    return given.model_copy(update={"site": site})


def test_refused_rates_are_refused_with_the_nearest_word_and_change_nothing() -> None:
    rates = {"burlap_doubel.lay": 25.0, "all.nigth": 1.2, "wheelbarrow": 3.0}
    assert [str(problem) for problem in refused_rates(with_rates(rates))] == [
        "rates, [rates] all.nigth: unknown rate. Did you mean 'all.night'?",
        "rates, [rates] burlap_doubel.lay: unknown rate. Did you mean "
        "'burlap_double.lay'?",
        "rates, [rates] wheelbarrow: unknown rate. A key is method.figure, such as "
        "burlap_double.lay",
    ]
    assert figures_for(rates) == table()


# 20 to 45 m² per worker-hour in the table: a tenth and ten times of that.
@pytest.mark.parametrize("value", [0.0, -3.0, 1.9, 451.0, nan, inf])
def test_a_rate_is_no_slip_of_a_unit(value: float) -> None:
    (problem,) = refused_rates(with_rates({"burlap_double.lay": value}))
    assert (problem.field, problem.wanted) == (
        "[rates] burlap_double.lay", "a number from 2 to 450"
    )  # fmt: skip
    assert refused_rates(with_rates({"burlap_double.lay": 449.0})) == []


# 2 to 4 people in the table; the largest crew has four.
@pytest.mark.parametrize("value", [0.4, 2.5, 0.0, 5.0, nan])
def test_people_are_whole_and_no_more_than_there_are(value: float) -> None:
    (problem,) = refused_rates(with_rates({"burlap_double.lay_people": value}))
    wanted = "a whole number from 1 to 4, the people of the largest crew"
    assert problem.wanted == wanted
    assert refused_rates(with_rates({"burlap_double.lay_people": 1.0})) == []


def test_strips_are_not_cut_into_scraps() -> None:
    (problem,) = refused_rates(with_rates({"all.least_strip": 4.9}))
    assert problem.wanted == "a number from 5 to 100"
    assert refused_rates(with_rates({"all.least_strip": 5.0})) == []


def test_a_figure_out_of_order_is_refused() -> None:
    with pytest.raises(ValidationError, match="low <= typical <= high"):
        Figure(low=3, typical=2, high=4, unit="m", how="assumption", source="a slip")
