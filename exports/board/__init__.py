"""The site board: one self-contained page."""
