"""Cases out of the library and in: JSON Lines, CSV with a mapping, old cases written up."""
