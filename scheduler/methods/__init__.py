"""Curing methods: what has to be done to a surface, and when it may be."""
