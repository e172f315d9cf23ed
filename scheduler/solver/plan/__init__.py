"""A roster being built: what it costs and which rules it must keep."""
