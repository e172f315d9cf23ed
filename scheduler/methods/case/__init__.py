"""One surface and its method as the chains see them: figures and times."""
