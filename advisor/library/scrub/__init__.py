"""People and places taken out of a record: what the library keeps of it."""
