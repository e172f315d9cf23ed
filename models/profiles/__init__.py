"""Curing-period rules and limits as data, one TOML file a rule."""
