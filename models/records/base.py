"""What every record shares: frozen, no unknown fields."""

from pydantic import BaseModel, ConfigDict


class Record(BaseModel):
    """A value that is read or computed once and never changed."""

    model_config = ConfigDict(frozen=True, extra="forbid")
