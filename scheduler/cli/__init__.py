"""The command line: one file per command; screen.py does the printing."""
