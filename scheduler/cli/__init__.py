"""The command line: a command a file; screen.py does the printing."""
