"""One neighbourhood of the roster as a CP-SAT model, and the roster read back."""
