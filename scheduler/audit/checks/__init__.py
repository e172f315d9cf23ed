"""The rules that the simulation week is held against, a file each."""
