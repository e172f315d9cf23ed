"""Other methods for a surface, tried on this site's clocks and judged."""
