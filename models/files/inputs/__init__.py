"""The files of a site folder, one reader each, and what must fit between them."""
