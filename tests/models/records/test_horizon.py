"""Minutes of the plan are elapsed minutes, whatever the clocks on the wall do."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from hypothesis import given
from hypothesis import strategies as st

from models.records import Horizon

BERLIN = ZoneInfo("Europe/Berlin")


def test_night_of_the_autumn_change_has_an_hour_more() -> None:
    # Clocks go back on Sunday 31 October 2027 (EU rule: last Sunday, 01:00 UTC):
    # Saturday 20:00 to Sunday 06:00 is 11 hours.
    horizon = Horizon(
        starts_at=datetime(2027, 10, 30, 20, tzinfo=BERLIN),
        ends_at=datetime(2027, 10, 31, 6, tzinfo=BERLIN),
    )
    assert horizon.length_min == 11 * 60
    assert horizon.at(11 * 60) == datetime(2027, 10, 31, 5, tzinfo=UTC)


@given(st.integers(-20_000, 20_000))
def test_minute_and_instant_are_inverse(minute: int) -> None:
    starts_at = datetime(2027, 3, 27, 6, tzinfo=BERLIN)
    horizon = Horizon(starts_at=starts_at, ends_at=starts_at + timedelta(days=7))
    assert horizon.minute(horizon.at(minute)) == minute
