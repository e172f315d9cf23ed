"""Which neighbourhood is solved next, how large and for how long."""
