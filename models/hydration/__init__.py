"""Clock 1: temperature, equivalent age, setting and strength of every surface."""
