"""Curing records to sign: one for each surface, on paper and as a table."""

from exports.record.curing_record import CuringRecord, SignedRecord
from exports.record.render import render

__all__ = ["CuringRecord", "SignedRecord", "render"]
