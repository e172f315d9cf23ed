"""When each task of a top may begin, is due and is too late, and how many do it.

Worked out by hand. Minutes from Monday 06:00; night is 20:00 to 06:00, 840 to 1440.

* 90 m², placed from 60 to 300; loses its sheen at 420, takes a cover at 480, bears
  people at 660. Curing ends at 300 + 72 h = 4620, Thursday 11:00.
* Four people by day (60 to 660 and so on every 1440), two by night (960 to 1440); who
  is asked for while nobody works counts on the four.
* A job takes 6 min of set-up and the longer of hand work and water, in whole minutes;
  the tap gives 40 L/min, a hose 20. People join up to the most until it is in 90 min, a
  visit in 45 min.
* Covers are laid, changed and lifted by as many as it takes to do that in 60 min. What
  all four need longer for goes in equal strips of 60 min at most. All may begin as soon
  as the first; those that nobody is left for are due when they can be done in turn.
* Nothing is due before anybody could have done it: a shift is there 3 min after it
  begins, works on for an hour by day (to 720) and breaks from 360 to 390.
* A cover is due 60 min after the surface is ready, and too late three days (4320) on.
* Covers come off on the first worked morning that ends an hour after curing: Friday,
  5760 to 6000; late a day after curing, 4620 + 1440 = 6060; too late three days on.
* An inspection takes 6 min and 90 m² at 3000 m²/h: 8 min in all.
"""

import pytest

from models.records import Element, MethodKey, SteamCycle, SurfaceWork
from scheduler.methods.case.method_table import methods
from scheduler.methods.expand import expand
from scheduler.methods.surfaces import planning_grid, surfaces_of
from tests.builders import pour, site_input
from tests.scheduler.methods.methods_builders import (
    FOR_TOPS,
    drying,
    hour,
    hydration,
    operated,
)

#: Name, earliest start, due end, latest end, people.
Row = tuple[str, int, int, int, int]
UNTIL = 10380  # 6060 + 4320

HOLD: Row = ("hold", 0, 60, 60, 1)
#: Fog stands in for a cover that is 30 min late, until 4 h after it could be on: an
#: hour a stint, cut at the end of the shift at 660. 90 of the 150 m² one person keeps.
FOG_480: tuple[Row, ...] = (
    ("fog-1", 510, 570, 570, 1),
    ("fog-2", 570, 630, 630, 1),
    ("fog-3", 630, 660, 660, 1),
    ("fog-4", 660, 720, 720, 1),
)
FOG_660: tuple[Row, ...] = (
    ("fog-1", 690, 750, 750, 1),
    ("fog-2", 750, 810, 810, 1),
    ("fog-3", 810, 870, 870, 1),
    ("fog-4", 870, 900, 900, 1),
)
#: Every shift from Monday night on; Thursday's day shift lies under it for 4620 - 4380
#: = 240 of 600 min, which is less than half. Between night (to 1440) and day (from
#: 1500) are 60 min, and 90 have to be: each gives 15.
LOOKS: tuple[Row, ...] = (
    ("look/2027-05-03-night", 960, 1425, 1425, 1),
    ("look/2027-05-04-day", 1515, 2100, 2100, 1),
    ("look/2027-05-04-night", 2400, 2865, 2865, 1),
    ("look/2027-05-05-day", 2955, 3540, 3540, 1),
    ("look/2027-05-05-night", 3840, 4320, 4320, 1),
)
#: 90 / 50 / 2 = 54 min, 60 with set-up.
LIFT: Row = ("remove", 5760, 6060, UNTIL, 2)


def soak(on_min: int) -> Row:
    """90 / 250 = 21.6 min by one, 22 + 6 = 28; due 30 min after laying's due at 540."""
    return ("soak", on_min, 540 + 30 + 28, 4860 + 4320, 1)


def strips(
    name: str, count: int, takes_min: int, *row: int, there_min: int = 0
) -> tuple[Row, ...]:
    """So many strips of one job, in turn by all who are there, from a minute on."""
    earliest_min, due_min, latest_min, people = row
    begun_min = max(earliest_min, there_min)
    return tuple(
        (
            f"{name}-{n}",
            earliest_min,
            max(due_min, begun_min + n * takes_min),
            latest_min,
            people,
        )
        for n in range(1, count + 1)
    )


def sheeted(people: int, on_min: int, lift_min: int, lift_people: int) -> list[Row]:
    """A sheet that is on at a minute and takes so long to lift.

    Re-wetting: 90 / 120 / 2 = 22.5, 23 + 6 = 29 min by two. Loosening: 90 / 300 / 2 =
    9 + 6 = 15 min by two, an hour before lifting, so lifting begins at 5760 + 15 + 60;
    it is due in time for lifting to be done at 6060.
    """
    return [
        HOLD,
        *FOG_480,
        ("lay", 480, 540, 4860, people),
        ("rewet", on_min, 4620, 4620, 2),
        *LOOKS,
        ("loosen", 5760, 6060 - 60 - lift_min, UNTIL, 2),
        ("remove", 5835, 6060, UNTIL, lift_people),
    ]


# Mist at 300 and sheet at 70 by two: 9 + 38.6 = 47.6, 48 + 6 = 54; off at 90: 30 + 6.
SHEET = sheeted(2, 480 + 54, 36, 2)
SPRAYED: list[Row] = [
    HOLD,
    # An hour before the sheen goes, 15 min; too late with the first coat.
    ("mix", 360, 420, 4770, 1),
    # 90 / 45 / 2 = 60, 66 with set-up; due 30 min after the sheen or when it is done.
    ("coat1", 420, 486, 420 + 30 + 4320, 2),
    # 30 min later at the soonest, 120 at the latest: due 486 + 120 + 66.
    ("coat2", 516, 672, 672 + 2 * 4320, 2),
    # From 516 + 66 on; due 60 min after the last coat's due and its own 10 min.
    ("coverage", 582, 672 + 60 + 10, 9312 + 4320, 1),
    # Three hours after the last coat's due.
    ("rain-watch", 582, 672 + 180, 9312 + 4320, 1),
    # Once a day: the day shifts that lie under it.
    ("look/2027-05-04-day", 1500, 2100, 2100, 1),
    ("look/2027-05-05-day", 2940, 3540, 3540, 1),
]
TOPS: dict[MethodKey, list[Row]] = {
    "burlap_single": [
        HOLD,
        *FOG_480,
        ("lay", 480, 540, 4860, 3),  # by two 60 + 6 is too long; by three 40 + 6
        soak(526),
        ("rewet", 526, 4620, 4620, 1),  # as the soak: 22 + 6 = 28 min
        *LOOKS,
        LIFT,
    ],
    "burlap_double": [
        HOLD,
        *FOG_480,
        ("lay", 480, 540, 4860, 4),  # by three 60 + 6 is too long; by four 45 + 6
        soak(531),
        ("rewet", 531, 4620, 4620, 1),
        *LOOKS,
        LIFT,
    ],
    "cotton_mats": [
        HOLD,
        *FOG_660,
        # Bears people at 660. Three are the fewest, so the four; 67.5 + 6 is too long:
        # two strips of 45 / 20 / 4 = 33.8, 34 + 6 = 40.
        # The second would end at 740, and they go home at 720: on Tuesday, 1503 + 40.
        ("lay-1", 660, 720, 720 + 4320, 4),
        ("lay-2", 660, 1543, 720 + 4320, 4),
        ("soak", 700, 1543 + 30 + 33, 5040 + 4320, 1),  # 90 / 200 = 27, 33 with set-up
        ("rewet", 700, 4620, 4620, 1),
        *LOOKS,
        ("remove", 5760, 6060, UNTIL, 4),  # 216 / 3 = 72 is too long; 54 + 6 by four
    ],
    "wet_sand": [
        HOLD,
        *FOG_660,
        # 45 / 12 / 4 = 56.3, 57 + 6 is too long; a third is 37.5, 38 + 6 = 44 by all.
        # One ends at 704; the others on Tuesday, 1503 + 44 and + 88.
        ("lay-1", 660, 720, 720 + 4320, 4),
        ("lay-2", 660, 1547, 720 + 4320, 4),
        ("lay-3", 660, 1591, 720 + 4320, 4),
        ("soak", 704, 1591 + 30 + 29, 5040 + 4320, 1),  # 450 L / 20 = 22.5, 23 + 6
        ("rewet", 704, 4620, 4620, 1),
        *LOOKS,
        *strips("remove", 3, 44, 5760, 6060, UNTIL, 4),  # as laying it
    ],
    "plastic_sheet": SHEET,
    "plastic_sheet_clear": SHEET,
    "plastic_sheet_black": SHEET,
    # Mist and paper at 60 by two: 9 + 45 + 6 = 60; off at 75: 36 + 6 = 42.
    "impervious_paper": sheeted(2, 480 + 60, 42, 2),
    # 90 / 25: by three 72 is too long, by four 54 + 6; off at 32: by three 56.3, 57 + 6
    # is too long, by four 42.2, 43 + 6 = 49.
    "sheet_over_burlap": sheeted(4, 480 + 60, 49, 4),
    "compound_clear": SPRAYED,
    "compound_white": SPRAYED,
    "ponding": [
        HOLD,
        *FOG_480,
        ("lay", 480, 540, 4860, 3),
        soak(526),
        ("rewet", 526, 1740, 1740, 1),  # until the pond, 24 h after placing
        # Tuesday's day shift lies under the burlap for 1740 - 1500 = 240 min of 600.
        ("look/2027-05-03-night", 960, 1440, 1440, 1),
        # Half a day before the pond. 4.2 × √90 = 39.8 m at 10 by three, by night ×
        # 1.3: 103.6 + 6, 110. Too late after two days.
        ("change-1/bund", 1020, 1740, 1740 + 2880, 3),
        # An hour either side, in one: 2250 L by two hoses: 56.3, 57 + 6 = 63.
        ("change-1/lay", 1680, 1800, 1800 + 2880, 2),
        # Half a day after filling, 1743 + 720, until 6 h before curing ends. 1080 L by
        # one take 54 + 6, too long for a visit; by two 27 + 6.
        ("change-1/top-up/2027-05-05-day", 2940, 3540, 3540, 2),
        # The first 90 min after the pond can be full: 1680 + 63 + 90.
        ("change-1/look/2027-05-04-day", 1833, 2100, 2100, 1),
        ("change-1/look/2027-05-04-night", 2400, 2865, 2865, 1),
        ("change-1/look/2027-05-05-day", 2955, 3540, 3540, 1),
        ("change-1/look/2027-05-05-night", 3840, 4320, 4320, 1),
        ("change-1/drain", 5760, 6060, UNTIL, 3),  # at 32 by three: 57 + 6 = 63
        ("change-1/remove", 5823, 6060, UNTIL, 2),  # after it; 54 + 6 = 60
        ("change-1/wash", 5883, 6060, UNTIL, 2),  # 90 / 40 / 2 = 67.5, 68 + 6
    ],
    "sprinklers": [
        HOLD,
        *FOG_480,
        ("lay", 480, 540, 4860, 3),
        soak(526),
        # After the soak. 90 / 450 / 2 = 6 + 6 and 30 to run in: 42; due an hour after
        # it could be done if the soak ends when due: 598 + 42 + 60 = 700.
        ("commission", 526 + 28, 700, 700 + 4320, 2),
        *LOOKS,
        ("shut-off", 5760, 6060, UNTIL, 1),  # 90 / 300 = 18 + 6 = 24
        ("remove", 5784, 6060, UNTIL, 2),
    ],
    "soaker_under_sheet": [
        HOLD,
        *FOG_480,
        ("lay", 480, 540, 4860, 4),
        # A metre of hose a m²: 90 / 80 / 2 = 33.8, 34 + 6 and 30: 70; 540 + 70 + 60.
        ("commission", 540, 670, 670 + 4320, 2),
        *LOOKS,
        ("shut-off", 5760, 6060, UNTIL, 2),  # by one 54 + 6 is too long; by two 27 + 6
        ("loosen", 5793, 6060 - 60 - 49, UNTIL, 2),
        ("remove", 5793 + 15 + 60, 6060, UNTIL, 4),
    ],
    "insulated_blankets": [
        HOLD,
        *FOG_660,
        # Nobody is there at 660, and a pair is the smallest that can: 90 / 40 / 2 =
        # 67.5 is too long; a half is 33.8, 34 + 6 = 40.
        *strips("lay", 2, 0, 660, 720, 720 + 4320, 2),
        *LOOKS,
        # 90 / 150 / 2 = 18 + 6 = 24 by two; half a day before the rest comes off, which
        # is late a day after that: in time until 6060 anyhow.
        ("loosen", 5760, 6060, UNTIL, 2),
        ("remove", 5784 + 720, 6504 + 1440, UNTIL, 2),  # 90 / 60 / 2 = 45 + 6
    ],
    "live_steam": [
        HOLD,
        *FOG_480,
        *strips("lay", 2, 51, 480, 540, 4860, 4),  # 45 / 15 / 4 = 45 + 6 by all
        ("steam-on", 720, 780, 840, 1),
        # Every hour of the cycle with 16 min of an operator's shift in it.
        *(
            (f"reading/{5 + i:02}", 960 + 60 * i, 1020 + 60 * i, 1020 + 60 * i, 1)
            for i in range(8)
        ),
        *(
            (f"reading/{14 + i}", 1500 + 60 * i, 1560 + 60 * i, 1560 + 60 * i, 1)
            for i in range(5)
        ),
        ("steam-off", 1440, 1500 + 3 + 15, 1560, 1),  # whoever does it comes at 1500
        # Half of Tuesday's day shift is the enclosure's, the first of two covers.
        ("look/2027-05-03-night", 960, 1425, 1425, 1),
        ("look/2027-05-04-day", 1515, 1800, 1800, 1),
        # Off at 30 and on at 25, an hour either side of 1800: 396 / 4 = 99 is too long;
        # a half is 49.5, 50 + 6 = 56.
        # One ends at 1796, the next does not before the break, 1800 to 1830.
        ("change-1/lay-1", 1740, 1860, 1860 + 2880, 4),
        ("change-1/lay-2", 1740, 1830 + 56, 1860 + 2880, 4),
        ("change-1/rewet", 1796, 4620, 4620, 2),
        ("change-1/look/2027-05-04-night", 2400, 2865, 2865, 1),
        ("change-1/look/2027-05-05-day", 2955, 3540, 3540, 1),
        ("change-1/look/2027-05-05-night", 3840, 4320, 4320, 1),
        ("change-1/loosen", 5760, 6060 - 60 - 49, UNTIL, 2),
        ("change-1/remove", 5835, 6060, UNTIL, 4),
    ],
}


def top(method: MethodKey, element: Element) -> SurfaceWork:
    """The top of the docstring; steam, if any, from 720 on, held from 960 to 1440."""
    given = operated(
        site_input(
            pour(method=method, element=element, area_m2=90, shoring_checked=True)
        )
    )
    (surface,) = surfaces_of(given)
    if surface.steam:
        cycle = SteamCycle(
            starts_at=hour(12), hold_from_at=hour(16), hold_until_at=hour(24),
            ends_at=hour(30), hold_c=60,
        )  # fmt: skip
        moist = surface.later[0].model_copy(update={"starts_at": cycle.ends_at})
        update = {"steam": cycle, "later": (moist,)}
        surface = surface.model_copy(update=update)
    grid = planning_grid(given)
    clocks = hydration((surface,), grid), drying((surface,), grid)
    return expand(given, (surface,), *clocks).surfaces[0]


def rows(surface: SurfaceWork) -> set[Row]:
    """The tasks of a surface, and its pattern of re-wetting."""
    pattern = [surface.rewet] if surface.rewet else []
    prefix = f"{surface.surface_id}/"
    return {
        (t.id.removeprefix(prefix), t.earliest_min, t.due_min, t.latest_min, t.people)
        for t in (*surface.tasks, *pattern)
    }


def test_every_method_of_a_top_is_in_the_table() -> None:
    assert set(TOPS) == set(FOR_TOPS)


@pytest.mark.parametrize(
    ("method", "element"),
    [(m, element) for m in FOR_TOPS for element in methods()[m].fits.elements],
)
def test_times_and_people_of_every_task(method: MethodKey, element: Element) -> None:
    assert rows(top(method, element)) == set(TOPS[method])
