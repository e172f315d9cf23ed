"""Fits tasks to crews, shifts and water; the only place that imports ortools."""
