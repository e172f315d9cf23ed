"""The planned stretch: from the week's start to the same clock time days later."""

from datetime import datetime, timedelta

from models.files.reading.local_time import LocalTime
from models.records import Horizon


def horizon_of(week_starts_at: datetime, days: int, local: LocalTime) -> Horizon:
    """Count calendar days, so that a week with a clock change has 167 or 169 hours.

    Raises
    ------
    Refused
        If the clocks skip that time on the last day.
    """
    ends = local.wall(week_starts_at) + timedelta(days=days)
    return Horizon(
        starts_at=week_starts_at, ends_at=local.of_wall(ends, first_of_two=True)
    )
