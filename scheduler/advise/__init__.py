"""Which curing method suits a surface: what each would cost here, and their order."""
