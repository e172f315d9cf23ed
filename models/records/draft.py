"""What a planned week was planned from, until it is published."""

from pydantic import Field

from models.quantities import Instant
from models.records.base import Record


class Draft(Record):
    """Kept beside the roster that it is about.

    Attributes
    ----------
    input_digest : str
        Of the site folder's files.
    since_issue : int
        Number of the newest issue when it was planned; 0 for none.
    entries_up_to : int
        Number of the last ledger entry that it took up; 0 for none.
    from_at : Instant or None
        What starts before had begun; None where nothing was taken up.
    """

    input_digest: str
    since_issue: int = Field(0, ge=0)
    entries_up_to: int = Field(0, ge=0)
    from_at: Instant | None = None
