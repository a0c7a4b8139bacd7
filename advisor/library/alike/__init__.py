"""Findings as they are kept, and past places that are like one of now."""
