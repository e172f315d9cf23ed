"""The work list as arrays of whole minutes, in an order of the solver's own."""
