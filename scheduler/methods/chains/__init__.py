"""Which family serves a surface, and what follows when its cover is changed."""
