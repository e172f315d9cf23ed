"""The stretch of time that is planned, and its whole minutes."""

from datetime import UTC, datetime, timedelta

from models.quantities import Instant
from models.records.base import Record


class Horizon(Record):
    """From the first planned minute to the last; both with an offset."""

    starts_at: Instant
    ends_at: Instant

    @property
    def length_min(self) -> int:
        """Whole minutes from start to end, clock changes included."""
        return self.minute(self.ends_at)

    def minute(self, at: datetime) -> int:
        """Whole minutes from the start to an instant; negative before it."""
        # In UTC: Python subtracts wall clocks where both carry the same zone object.
        elapsed = at.astimezone(UTC) - self.starts_at.astimezone(UTC)
        return int(elapsed.total_seconds() // 60)

    def at(self, minute: int) -> datetime:
        """Instant of a minute, in UTC."""
        return self.starts_at.astimezone(UTC) + timedelta(minutes=minute)
