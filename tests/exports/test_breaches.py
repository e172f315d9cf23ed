"""Temperatures outside their limits, in words."""

from datetime import timedelta
from typing import get_args

import pytest

from exports.breaches import breached, groups, outside_words, surfaces_outside
from models.local_clock import LocalClock, ShortTimes
from models.quantities import Units
from models.records import BreachKind, Finding
from tests.builders import MONDAY
from tests.exports.exports_builders import breach_finding

BERLIN = LocalClock("Europe/Berlin")
LABELS = {"R1-top": "R1 Raft, top", "S1-top": "S1 Slab, top"}


def finding(
    kind: BreachKind = "core_to_face",
    from_h: float = 0,
    hours: float = 2,
    surface_id: str = "R1-top",
    **figures: object,
) -> Finding:
    """A breach so many hours after Monday 06:00."""
    first, last = round(60 * from_h), round(60 * (from_h + hours))
    return breach_finding(kind, first, last, surface_id, **figures)


def lines(*findings: Finding, units: Units = "si") -> list[str]:
    return [one.line for one in breached(findings, LABELS, BERLIN, units, MONDAY)]


def test_a_line_says_where_when_and_how_far() -> None:
    (one,) = breached([finding()], LABELS, BERLIN, "si", MONDAY)
    assert one.heading == "Core too warm for the face: at most 20 K warmer (a clause)"
    assert one.line == (
        "R1 Raft, top: Mon 3 May 06:00–08:00 CEST; up to 23 K warmer, worst Mon 06:00"
    )


def test_what_else_was_found_is_no_breach() -> None:
    gap = Finding(kind="gap", words="dry", starts_at=MONDAY, ends_at=MONDAY)
    assert breached([gap], LABELS, BERLIN, "si", MONDAY) == ()
    assert surfaces_outside([gap, finding(), finding(from_h=5)]) == 1
    assert outside_words(0) == ""
    assert outside_words(1) == "temperature outside its limit on 1 surface"
    assert outside_words(2) == "temperature outside its limit on 2 surfaces"


# 23.4 K are 42.1 °F of difference, 20 K 36 °F; -4 °C are 24.8 °F, 5 MPa 725 psi.
@pytest.mark.parametrize(
    ("given", "units", "said"),
    [
        (finding(), "us", ("at most 36 °F warmer", "up to 42 °F warmer")),
        (
            finding("frost", value=-4, limit=0, strength_mpa=5),
            "si",
            ("not below 0 °C until it has 5.0 MPa", "down to -4 °C"),
        ),
        (
            finding("frost", value=-4, limit=0, strength_mpa=5),
            "us",
            ("not below 32 °F until it has 725 psi", "down to 25 °F"),
        ),
        (
            finding("cooling", value=3.6, limit=2.8, within_h=1),
            "si",
            ("at most 2.8 K in 1 h", "by 3.6 K"),
        ),
        (finding("too_hot", value=74, limit=70), "si", ("at most 70 °C", "up to 74 °")),
        (
            finding("frost", value=-0.3, limit=0, strength_mpa=5),
            "si",
            ("not below 0 °C", "just below 0 °C"),
        ),
        # Rounded like the limit it would read as allowed.
        (finding(value=20.3), "si", ("at most 20 K", "just over 20 K warmer")),
        (
            finding("too_cold", value=12.8, limit=13),
            "si",
            ("at least 13 °C", "just below 13 °C"),
        ),
        (finding(value=22.1, limit=19.4), "si", ("at most 19.4 K", "up to 22.1 K")),
    ],
)
def test_figures_are_in_the_units_of_the_site(
    given: Finding, units: Units, said: tuple[str, str]
) -> None:
    (one,) = breached([given], LABELS, BERLIN, units, MONDAY)
    assert said[0] in one.rule
    assert said[1] in one.worst


def test_stretches_of_one_limit_are_one_line() -> None:
    nights = [finding(from_h=24 * day + 14, value=21 + day) for day in range(3)]
    assert lines(*nights) == [
        "R1 Raft, top: Mon 3 May 20:00–22:00 CEST, Tue 20:00–22:00, Wed 20:00–22:00; "
        "up to 23 K warmer, worst Wed 20:00"
    ]


def test_it_is_over_with_the_last_stretch() -> None:
    (one,) = breached([finding(), finding(from_h=5)], LABELS, BERLIN, "si", MONDAY)
    assert one.ends_at == MONDAY + timedelta(hours=7)


def test_many_stretches_are_counted() -> None:
    nights = [finding(from_h=24 * day + 14) for day in range(5)]
    assert (
        "Mon 3 May 20:00–22:00 CEST, Tue 20:00–22:00 and 3 more times until Fri 22:00"
        in lines(*nights)[0]
    )


def test_stretches_that_overlap_are_joined() -> None:
    both = finding(hours=3), finding(from_h=2, hours=4)
    assert lines(*both)[0].startswith("R1 Raft, top: Mon 3 May 06:00–12:00 CEST;")


def test_stretches_that_follow_each_other_are_joined() -> None:
    both = finding(hours=3), finding(from_h=3, hours=1)
    assert lines(*both)[0].startswith("R1 Raft, top: Mon 3 May 06:00–10:00 CEST;")


def test_what_no_clause_and_no_figure_limits_is_told_without() -> None:
    given = finding(
        "steam_before_set", value=None, limit=None, clause="",
        sets_at=MONDAY + timedelta(hours=2),
    )  # fmt: skip
    (one,) = breached([given], LABELS, BERLIN, "si", MONDAY)
    assert one.heading == "Steam before it sets: not before final set"
    assert one.worst == "would set Mon 08:00"


def test_a_moment_is_told_as_one() -> None:
    assert lines(finding("above_air", hours=1 / 60, value=24, limit=11)) == [
        "R1 Raft, top: Mon 3 May 06:00 CEST; 24 K above it"
    ]


def test_the_most_dangerous_comes_first_whenever_it_is() -> None:
    kinds = get_args(BreachKind)
    given = [
        finding(kind, from_h=10 - rank, within_h=24, strength_mpa=5, sets_at=MONDAY)
        for rank, kind in enumerate(kinds)
    ]
    found = breached(given, LABELS, BERLIN, "si", MONDAY)
    assert [one.kind for one in found] == list(kinds)
    for one in found:  # every kind has its words, all filled in
        assert "{" not in one.sentence
        assert one.do.endswith(".")


def test_surfaces_outside_one_limit_share_its_heading() -> None:
    given = [finding(), finding(surface_id="S1-top"), finding(from_h=5, limit=15)]
    made = groups(breached(given, LABELS, BERLIN, "si", MONDAY))
    assert [len(group.breached) for group in made] == [2, 1]
    assert made[0].lines[1].startswith("S1 Slab, top: ")


def test_what_is_placed_already_cannot_be_left_unplaced() -> None:
    placed_at = MONDAY + timedelta(hours=5)
    given = finding(
        "freezes_before_set", from_h=8, sets_at=MONDAY, placing_ends_at=placed_at
    )

    def do(seen_h: float) -> str:
        seen_at = MONDAY + timedelta(hours=seen_h)
        return breached([given], LABELS, BERLIN, "si", seen_at)[0].do

    assert do(4.9).startswith("Do not place without heat")
    assert (
        do(5) == "Once placed: warm it now, and have the engineer examine what froze."
    )
    assert do(4.9).endswith(do(5))  # nobody has to look twice


def test_a_night_is_cut_out_with_its_own_times() -> None:
    first, last = MONDAY + timedelta(hours=12), MONDAY + timedelta(hours=24)
    times = ShortTimes(BERLIN, first, last)
    given = [finding(hours=10), finding(from_h=11, hours=20), finding(from_h=40)]
    found = breached(given, LABELS, BERLIN, "si", first, last, times)
    assert [one.when for one in found] == ["Mon 18:00 to Tue 06:00"]
