"""Many sites planned at once, each with the result it would have alone."""
