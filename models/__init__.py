"""What is true: records, the two clocks, the rules and the files they come from."""
