"""What the kept cases tell: how they stand, what held, how often the first belief was right."""
