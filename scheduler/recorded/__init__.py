"""The curing record of a surface: what was asked, what is proven, what nobody wrote."""
