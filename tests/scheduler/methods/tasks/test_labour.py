"""People, minutes and litres of a job; the sums stand above the checks."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scheduler.methods.case.protocol import Case
from scheduler.methods.tasks.labour import Workload, in_parts, labour, slowdown
from tests.builders import pour, site_input
from tests.scheduler.methods.methods_builders import case, hour

# Set-up is 6 min, a hose 20 L/min (methods.toml); the tap of the site gives 40 L/min.
SOAK = Workload(rates_m2_h=(250,), people=range(1, 3), target_min=45, dose_l_m2=1.5)


@pytest.fixture(scope="module")
def plain() -> Case:
    return case()


def test_hand_work_where_it_takes_longer_than_the_flow(plain: Case) -> None:
    """100 m² at 250 m²/h by one are 24 min; 150 L through one hose 7.5 min."""
    found = labour(plain, SOAK, 100, 1, 4)
    assert (found.people, found.duration_min) == (1, 6 + 24)


def test_flow_where_it_takes_longer_than_hand_work(plain: Case) -> None:
    """600 m² × 2 L/m² at 25 L/min of the point are 48 min of pure flow.

    The worked example of the trade's rule that a fixed half hour is wrong; by hand two
    people at 400 m²/h would need 45.
    """
    job = replace(SOAK, rates_m2_h=(400,), dose_l_m2=2)
    found = labour(replace(plain, flow_l_min=25), job, 600, 1, 4)
    assert (found.people, found.duration_min) == (2, 6 + 48)
    assert found.water is not None
    assert found.water.litres_l == 1200
    assert found.water.flow_l_min == pytest.approx(25)


def test_one_after_the_other_steps_add_up(plain: Case) -> None:
    """60 m² wetted at 300 and covered at 60 by two: 6 + 30 = 36 min."""
    job = Workload(rates_m2_h=(300, 60), people=range(2, 5), target_min=90)
    assert labour(plain, job, 60, 1, 4).duration_min == 6 + 36


def test_more_people_join_until_the_target_is_kept(plain: Case) -> None:
    """150 m²: 6 + 36 by one is within 45 min; 200 m²: 6 + 48 is not, 6 + 24 by two."""
    assert labour(plain, SOAK, 150, 1, 4).people == 1
    assert labour(plain, SOAK, 200, 1, 4).people == 2


def test_no_more_people_than_are_there(plain: Case) -> None:
    assert labour(plain, SOAK, 200, 1, 1).people == 1


def test_never_fewer_than_the_job_needs(plain: Case) -> None:
    """A sheet is laid by two even where only one is there: then nobody can."""
    job = Workload(rates_m2_h=(70,), people=range(2, 5), target_min=90)
    assert labour(plain, job, 10, 1, 1).people == 2


def test_a_visit_too_long_for_two_takes_the_whole_gang(plain: Case) -> None:
    """2000 m² at 250: 246 min by two, over the 240 of any job; by three 166."""
    assert labour(plain, SOAK, 2000, 1, 2).people == 3


def test_large_work_is_cut_into_parts_that_fit() -> None:
    """1500 m² at 30 by four are 750 min: four parts of 187.5 and 6 min set-up."""
    large = case(site_input(pour(area_m2=1500)))
    job = Workload(rates_m2_h=(30,), people=range(2, 5), target_min=90)
    parts = in_parts(large, job, 1, 4)
    assert [p.duration_min for p in parts] == [6 + 188] * 4
    assert sum(p.area_m2 for p in parts) == 1500


def test_night_and_faces_slow_hand_work_down() -> None:
    """Local night 20:00 to 06:00; minute 0 is 06:00. Night × 1.3, faces × 2."""
    plain = case()
    assert slowdown(plain, 0) == 1
    assert slowdown(plain, 14 * 60) == 1.3
    assert slowdown(plain, None) == 1
    wall = pour(
        element="wall", formed_area_m2=50, strike_at=hour(30),
        formed_method="burlap_double",
    )  # fmt: skip
    faces = case(site_input(wall), index=1)
    assert slowdown(faces, 0) == 2
    assert slowdown(faces, 0, vertical_in_rate=True) == 1
    assert slowdown(faces, 14 * 60) == 2.6


@given(
    area_m2=st.floats(1, 5000),
    rate=st.floats(20, 400),
    dose=st.floats(0.1, 5),
    strength=st.integers(0, 12),
)
def test_water_never_exceeds_the_point_and_is_area_times_dose(
    plain: Case, area_m2: float, rate: float, dose: float, strength: int
) -> None:
    job = Workload((rate,), range(1, 3), 45, dose_l_m2=dose)
    found = labour(plain, job, area_m2, 1, strength)
    assert found.water is not None
    assert found.water.litres_l == pytest.approx(area_m2 * dose, abs=0.051)
    assert found.water.flow_l_min <= plain.flow_l_min + 1e-9
    assert found.water.until_min == found.duration_min
    hand_min = 60 * area_m2 / rate / found.people
    assert found.duration_min >= hand_min
