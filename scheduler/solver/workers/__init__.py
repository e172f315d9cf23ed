"""The second process: it is handed windows and gives rosters back in order."""
