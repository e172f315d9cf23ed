"""Both clocks of each surface as charts, for the person responsible for curing."""
