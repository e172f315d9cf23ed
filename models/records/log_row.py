"""One row of a log, as people write it on the command line or in a sheet."""

from typing import Literal

from pydantic import Field

from models.quantities import AreaM2, Fraction
from models.records.base import Record
from models.records.happenings import Condition, Litres, LogWord
from models.records.task_kinds import TaskKind


class LogRow(Record):
    """What stands in a row; which of it belongs to what happened is not said here.

    Attributes
    ----------
    at, from_words, to_words : str
        Times as they were written, such as ``Tue 07:40``.
    visit_id, issue_number : str, int or None
        A visit as the sheets of an issue name it; None for the newest issue.
    """

    what: LogWord
    about: str = ""
    work: TaskKind | None = None
    visit_id: str = ""
    issue_number: int | None = Field(None, ge=1)
    at: str = ""
    from_words: str = ""
    to_words: str = ""
    found: Condition | None = None
    litres_l: Litres | None = None
    area_m2: AreaM2 | None = None
    people: int | None = Field(None, ge=1, le=50)
    place: Literal["surface", "core"] | None = None
    temperature_c: float | None = Field(None, ge=-40, le=100)
    humidity_fraction: Fraction | None = None
    wind_m_s: float | None = Field(None, ge=0, le=40)
    solar_w_m2: float | None = Field(None, ge=0, le=1500)
    cloud_fraction: Fraction | None = None
    rain_mm: float | None = Field(None, ge=0, le=300)
    why: str = ""
    by: str = Field("", max_length=40)
    note: str = ""
    corrects: int | None = Field(None, ge=1)
