"""The stretch of time that is planned, and its whole minutes."""

from datetime import datetime, timedelta

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
        return int((at - self.starts_at).total_seconds() // 60)

    def at(self, minute: int) -> datetime:
        """Instant of a minute, in UTC."""
        return self.starts_at + timedelta(minutes=minute)
