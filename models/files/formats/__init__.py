"""CSV, workbooks and TOML as values that know the place they stand in."""
