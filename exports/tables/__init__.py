"""CSV and XLSX tables."""
