"""When each task of a struck face may begin, is due and is too late, for how many.

Worked out by hand, by the rules of ``test_times_of_tops.py``:

* 60 m² struck at hour 49, Wednesday 07:00, minute 2940: an hour more and it is late.
  Curing ends 72 h after it, 7260, Saturday 07:00; nobody works on the morning after, so
  the covers are the next plan's.
* The day gang comes as it is struck and is there at 2943; nothing is due before it
  could have been done then.
* Hand work on a face takes twice its time unless its rate is that of faces.
* An inspection takes 6 min and 60 m² at 3000 m²/h: 8 min in all.
"""

import pytest

from models.records import Element, MethodKey
from scheduler.methods.case.method_table import methods
from tests.builders import pour, site_input
from tests.scheduler.methods.chains.test_times_of_tops import Row, rows, strips
from tests.scheduler.methods.methods_builders import USABLE, hour, operated, work_of

FOR_FACES = [m for m in USABLE if methods()[m].fits.vertical]
LATE_MIN = 3000 + 4320


def looks(from_min: int) -> tuple[Row, ...]:
    """Every shift but the first ones whole, 15 min cut where night and day meet.

    The first 90 min after the cover is on.
    """
    return (
        ("look/2027-05-05-day", from_min + 90, 3540, 3540, 1),
        ("look/2027-05-05-night", 3840, 4305, 4305, 1),
        ("look/2027-05-06-day", 4395, 4980, 4980, 1),
        ("look/2027-05-06-night", 5280, 5745, 5745, 1),
        ("look/2027-05-07-day", 5835, 6420, 6420, 1),
        ("look/2027-05-07-night", 6720, 7200, 7200, 1),
    )


WRAPPED: tuple[Row, ...] = (
    # On faces 12 m²/h: by all four 75 + 6 is too long; half of it 37.5, 38 + 6 = 44.
    *strips("lay", 2, 44, 2940, 3000, LATE_MIN, 4, there_min=2943),
    # 60 / 250 × 2 = 28.8, 29 + 6 = 35 by one; due 30 min after laying's due.
    ("soak", 2984, 3031 + 30 + 35, LATE_MIN + 4320, 1),
    ("rewet", 2984, 7260, 7260, 1),
    *looks(2984),
)
SHEETED: tuple[Row, ...] = (
    # Mist at 300 and sheet at 25: by two 78 is too long, by three 52 + 6.
    ("lay", 2940, 2943 + 58, LATE_MIN, 3),
    ("rewet", 2998, 7260, 7260, 2),  # 60 / 120 / 2 × 2 = 30 + 6
    *looks(2998),
)
#: Burlap and sheet at 8 by all four: a half takes 56.3, 57 + 6, too long; a third 37.5,
#: 38 + 6 = 44.
BOTH = strips("lay", 3, 44, 2940, 3000, LATE_MIN, 4, there_min=2943)
SPRAYED: tuple[Row, ...] = (
    # Compound has 120 min after the forms: due 3060.
    ("mix", 2880, 2943 + 15, 3060 + 4320, 1),
    ("coat1", 2940, 3060, 3060 + 4320, 2),  # 60 / 45 / 2 × 2 = 80 + 6 = 86
    ("coat2", 2940 + 86 + 30, 3060 + 120 + 86, 3266 + 2 * 4320, 2),
    ("coverage", 3056 + 86, 3266 + 60 + 10, 11906 + 4320, 1),
    ("rain-watch", 3142, 3266 + 180, 11906 + 4320, 1),
    # The rain watch lasts three hours; 90 min after it.
    ("look/2027-05-05-day", 3142 + 180 + 90, 3540, 3540, 1),
    ("look/2027-05-06-day", 4380, 4980, 4980, 1),
    ("look/2027-05-07-day", 5820, 6420, 6420, 1),
)
FACES: dict[MethodKey, tuple[Row, ...]] = {
    "burlap_single": WRAPPED,
    "burlap_double": WRAPPED,
    "plastic_sheet": SHEETED,
    "plastic_sheet_clear": SHEETED,
    "plastic_sheet_black": SHEETED,
    "sheet_over_burlap": (*BOTH, ("rewet", 2984, 7260, 7260, 2), *looks(2984)),
    "compound_clear": SPRAYED,
    "compound_white": SPRAYED,
    "soaker_under_sheet": (
        *BOTH,
        # 60 m of hose: 60 / 80 / 2 × 2 = 45 + 6 and 30 to run in: 81; an hour more.
        ("commission", 2984, 3075 + 81 + 60, 3216 + 4320, 2),
        *looks(2984),
    ),
    "insulated_blankets": (
        ("lay", 2940, 3000, LATE_MIN, 2),  # 60 / 40 / 2 = 45 + 6, a rate of faces too
        *looks(2991),
    ),
    "forms_in_place": (
        # In every shift from four hours after the start of placing at 60 until struck;
        # 6 + 10 = 16 min.
        ("keep-wet/2027-05-03-day", 300, 660, 660, 1),
        ("keep-wet/2027-05-03-night", 960, 1440, 1440, 1),
        ("keep-wet/2027-05-04-day", 1500, 2100, 2100, 1),
        ("keep-wet/2027-05-04-night", 2400, 2880, 2880, 1),
        # A day after placing began; 60 / 14: by two 129 + 6 is too long, three at most.
        ("ease", 1500, 2940, 2940, 3),
        *BOTH,
        ("rewet", 2984, 7260, 7260, 2),
        *looks(2984),
    ),
}


def test_every_method_of_a_face_is_in_the_table() -> None:
    assert set(FACES) == set(FOR_FACES)


@pytest.mark.parametrize(
    ("method", "element"),
    [(m, element) for m in FOR_FACES for element in methods()[m].fits.elements],
)
def test_times_and_people_of_every_task(method: MethodKey, element: Element) -> None:
    struck = pour(
        element=element, area_m2=20, formed_area_m2=60, strike_at=hour(49),
        formed_method=method,
    )  # fmt: skip
    (_, faces) = work_of(operated(site_input(struck))).surfaces
    assert rows(faces) == set(FACES[method])
