"""The independent audit: a roster simulated again and held against every rule."""
