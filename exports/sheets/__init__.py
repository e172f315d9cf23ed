"""Shift sheets on paper: one for each crew and shift."""

from .render import render as render
from .shift_sheet import ShiftSheet as ShiftSheet
from .shift_sheets import shift_sheet_files as shift_sheet_files
from .shift_sheets import shift_sheets as shift_sheets
