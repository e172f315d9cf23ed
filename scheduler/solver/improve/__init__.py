"""Moves of few visits: added, shifted, ejected, drawn together into rounds."""
