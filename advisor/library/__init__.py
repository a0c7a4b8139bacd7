"""Cases kept: scrubbed, stored, found again, compared and counted."""
