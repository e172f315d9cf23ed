"""The rules that the simulated week is held against, one file each."""
