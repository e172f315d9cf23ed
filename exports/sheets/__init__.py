"""Shift sheets on paper."""
