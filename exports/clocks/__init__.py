"""Both clocks of each surface as charts, for whoever answers for the concrete."""
