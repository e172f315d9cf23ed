"""Plays a roster through again, on its own, minute by minute."""
