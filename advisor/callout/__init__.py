"""The record a technician keeps of a callout, and its file form."""

from advisor.callout.callout import Callout
from advisor.callout.places import BY_NAME as PLACE_FACTS
from advisor.callout.places import waters
from advisor.callout.readings import Resolved
from advisor.callout.record import Finding, How, Leak, Missing, Reading, Release, Truth, Visit
from advisor.callout.resolve import resolve, without, without_each
from advisor.callout.schema import callout_schema

__all__ = [
    "PLACE_FACTS",
    "Callout",
    "Finding",
    "How",
    "Leak",
    "Missing",
    "Reading",
    "Release",
    "Resolved",
    "Truth",
    "Visit",
    "callout_schema",
    "resolve",
    "waters",
    "without",
    "without_each",
]
