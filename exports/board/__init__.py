"""The site board: one self-contained page; the water left in a cover is a level."""
