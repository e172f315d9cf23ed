"""The rules that the played week is held against, a file each."""
