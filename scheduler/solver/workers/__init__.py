"""The second process: it is handed neighbourhoods and gives rosters back in order."""
