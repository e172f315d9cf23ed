"""What no roster can do better, counted for each surface by itself."""
