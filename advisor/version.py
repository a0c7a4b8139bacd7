"""The version of the advisor; the build reads it here."""

__version__ = "0.1.0"
