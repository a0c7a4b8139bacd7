"""Facts as pictures and as bars on a terminal."""
