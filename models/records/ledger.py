"""What a site's ledger keeps beside identities of visits: entries and issues."""

from hashlib import sha256

from pydantic import Field, model_validator

from models.quantities import Instant
from models.records.base import Record, require_none
from models.records.happenings import EntryKind, Happening
from models.records.objective import ObjectivePart


class NewEntry(Record):
    """Something that happened, as somebody hands it in.

    Attributes
    ----------
    about : str
        Id of the pour, surface, crew or water point; "" for the site as a whole.
    happened_at : Instant
        When; for what lies ahead, when it became known.
    by : str
        Initials of who says so.
    late : bool
        It was written long after it happened, or after a newer issue was published.
    corrects : int or None
        Number of the older entry in whose place it stands.
    note : str
        Anything else, in words.
    """

    about: str = ""
    happened_at: Instant
    by: str = Field(min_length=1, max_length=40)
    late: bool = False
    corrects: int | None = Field(None, ge=1)
    note: str = Field("", max_length=200)
    values: Happening

    @property
    def kind(self) -> EntryKind:
        """What sort of thing happened."""
        return self.values.kind

    @model_validator(mode="after")
    def _withdraws_something(self) -> "NewEntry":
        if self.kind == "withdrawn" and self.corrects is None:
            require_none([("corrects", "the number of the entry that is withdrawn")])
        return self


class Entry(NewEntry):
    """An entry as the ledger keeps it; it is never changed.

    Attributes
    ----------
    number : int
        1 for the first of the site, without a hole.
    written_at : Instant
        When it was taken into the ledger.
    """

    number: int = Field(ge=1)
    written_at: Instant


class IssueHead(Record):
    """A published roster without its long texts.

    Attributes
    ----------
    number : int
        1 for the first of the site, without a hole.
    input_digest : str
        Digest of the site folder it was planned from.
    entries_up_to : int
        Number of the last entry that the plan took up; 0 for none.
    seed : int
        Random seed of the search.
    objective : tuple of ObjectivePart
        The cost by part; ``cost`` is all of it.
    """

    number: int = Field(ge=1)
    published_at: Instant
    input_digest: str
    entries_up_to: int = Field(0, ge=0)
    seed: int
    cost: float
    objective: tuple[ObjectivePart, ...] = ()
    note: str = Field("", max_length=200)


class Issue(IssueHead):
    """A published roster, whole.

    Attributes
    ----------
    forecast : str
        The weather it was planned on, as canonical JSON.
    roster : str
        The roster as JSON, as it was handed out; ``schema_id`` in it says its shape.
    pours : str
        The pours it was planned with, as they had happened by then, as JSON of
        :class:`models.records.PlannedPours`; "" of an issue that kept none.
    """

    forecast: str
    roster: str
    pours: str = ""

    @property
    def forecast_digest(self) -> str:
        """SHA-256 of the forecast, in hexadecimal digits."""
        return sha256(self.forecast.encode()).hexdigest()

    @property
    def head(self) -> IssueHead:
        """The same without the long texts."""
        return IssueHead.model_validate(
            self.model_dump(exclude={"forecast", "roster", "pours"})
        )
