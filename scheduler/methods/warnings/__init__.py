"""What speaks against a method here: rules, forecast, stock, water, hands."""
