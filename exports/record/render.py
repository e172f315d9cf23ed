"""From a curing record to a page: one compile a record, PDF/UA-1, our own fonts."""

from functools import cache
from importlib.resources import files

import typst

from exports.record.course import course_svg
from exports.record.curing_record import SignedRecord
from exports.sheets.fonts import fonts


def render(signed: SignedRecord) -> bytes:
    """Set a record as a tagged PDF; the same record gives the same bytes."""
    pdf = typst.compile(
        _template(),
        format="pdf",
        font_paths=fonts(),
        sys_inputs={
            "signed": signed.model_dump_json(),
            "course": course_svg(signed.record.course),
        },
        pdf_standards=["ua-1"],
        timestamp=int(signed.record.at.timestamp()),
    )
    assert isinstance(pdf, bytes)
    return pdf


@cache
def _template() -> bytes:
    return files("exports.record").joinpath("record.typ").read_bytes()
