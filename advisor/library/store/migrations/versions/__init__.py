"""One file for each version, run in order."""
