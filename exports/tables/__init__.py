"""Visits, findings and water as CSV and as one workbook."""
