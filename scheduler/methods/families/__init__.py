"""One file for each family of curing methods; no family knows another."""
