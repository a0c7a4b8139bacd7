"""The JSON Schema (draft 7) of a callout file, for editors.

An editor types what the reader leaves as text: bare numbers are allowed where they are
written without quotes. What a schema cannot say (days, links, limits) the reader checks.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from advisor.callout.leak_reader import LEAK_KEYS
from advisor.callout.log_schema import log_schema
from advisor.callout.reader import KEYS, KIND
from advisor.callout.reading_reader import FULL_FORM
from advisor.callout.record import HOWS, MISSINGS
from advisor.terms import Attribute, Of

Schema = dict[str, Any]

_TEXT: Schema = {"type": ["string", "number", "boolean"]}
_DAY: Schema = {"type": "string", "pattern": r"^\d{4}-\d{2}-\d{2}$"}
_ID: Schema = {"type": ["string", "integer"], "pattern": r"^[^\W_]+([ -][^\W_]+)*$"}
_COUNT: Schema = {"type": ["string", "integer"], "pattern": "^[0-9]+$", "minimum": 1}
_KEY: Schema = {"type": "string", "minLength": 1}
_KEYS: Schema = {"type": "array", "items": _KEY}
_FLAG: Schema = {"enum": ["true", "false", "yes", "no", True, False]}
# Enough to see that something is meant as a number; the unit table is the reader's.
_NUMBER = (
    r"^\s*(unknown|((under|over|at least|at most|<=?|>=?|≤|≥)\s*)?(pH\s*)?[-+−]?[0-9.,].*)\s*$"
)


def callout_schema(attributes: Mapping[str, Attribute]) -> Schema:
    """The schema of a callout file with these attributes."""
    return {
        "$schema": "http://json-schema.org/draft-07/schema#",
        "title": "Callout",
        "type": "object",
        "properties": {
            "callout": {**_ID, "description": "A name for this callout."},
            "private": {
                "type": ["object", "null"],
                "description": "Names, address, telephone, contract. Never leaves the file.",
            },
            "structure": {
                **_findings(attributes, "structure"),
                "required": [KIND],
                "description": "What is known of the structure as a whole.",
            },
            "visits": {
                "type": ["array", "null"],
                "items": {
                    **_findings(attributes, "visit", date=_DAY),
                    "required": ["date"],
                },
                "description": "One entry for each day somebody was there.",
            },
            "leaks": {
                "type": "array",
                "minItems": 1,
                "items": _leak(attributes),
                "description": "The wet places.",
            },
            "releases": {
                "type": ["array", "null"],
                "items": {
                    "type": "object",
                    "properties": {
                        "stop": _KEY,
                        "leak": _ID,
                        "date": _DAY,
                        **{key: {**_TEXT, "minLength": 1} for key in ("role", "name", "words")},
                    },
                    "required": ["stop", "role", "name", "date", "words"],
                    "additionalProperties": False,
                },
                "description": "Stops that were released: by which role and name, when, how.",
            },
            "log": log_schema(_ID, _DAY),
            "truth": {
                "type": "object",
                "properties": {
                    "causes": {"type": "array", "items": {"type": "string"}, "minItems": 1},
                    "methods": {
                        "type": "object",
                        "properties": {"acceptable": _KEYS, "forbidden": _KEYS},
                        "additionalProperties": False,
                    },
                    "blind": _FLAG,
                    "because": _TEXT,
                },
                "required": ["causes"],
                "additionalProperties": False,
                "description": "What it was. Only in worked cases.",
            },
        },
        "required": [key for key in KEYS if key in ("callout", "structure", "leaks")],
        "additionalProperties": False,
        "definitions": {
            part: schema
            for attribute in attributes.values()
            for part, schema in _definitions(attribute).items()
        },
    }


def _leak(attributes: Mapping[str, Attribute]) -> Schema:
    described: dict[str, Schema] = {
        "leak": {**_ID, "description": "A name for this wet place."},
        "where": {**_TEXT, "description": "Where it is, in words for people."},
        "photos": {
            "type": ["array", "null"],
            "items": _TEXT,
            "description": "Names of picture files, relative to this record.",
        },
        "same-water": {**_ID, "description": "Another wet place, fed by the same water."},
        "findings": {
            **_findings(attributes, "leak"),
            "type": ["object", "null"],
            "description": "What was seen, measured or told here.",
        },
    }
    return {
        "type": "object",
        "properties": {key: described[key] for key in LEAK_KEYS},
        "required": ["leak"],
        "additionalProperties": False,
    }


def _findings(attributes: Mapping[str, Attribute], of: Of, **others: Schema) -> Schema:
    return {
        "type": "object",
        "properties": others
        | {
            key: {"$ref": f"#/definitions/{key}"}
            for key, attribute in attributes.items()
            if attribute.of == of
        },
        "additionalProperties": False,
    }


def _definitions(attribute: Attribute) -> dict[str, Schema]:
    """The finding, one reading in its full form, and the bare value."""
    key = attribute.key
    reading = {"$ref": f"#/definitions/{key}.reading"}
    return {
        key: {
            "description": attribute.question,
            "anyOf": [
                {"$ref": f"#/definitions/{key}.value"},
                reading,
                {"type": "array", "items": reading, "minItems": 1},
            ],
        },
        f"{key}.value": {"anyOf": list(_values(attribute))},
        f"{key}.reading": _full_form(attribute),
    }


def _full_form(attribute: Attribute) -> Schema:
    described: dict[str, Schema] = {
        "value": {"$ref": f"#/definitions/{attribute.key}.value"},
        "how": {"enum": list(HOWS)},
        "sure": _FLAG,
        "visit": _COUNT,
        "date": _DAY,
        "corrects": _COUNT,
        "missing": {"enum": list(MISSINGS)},
        "note": _TEXT,
    }
    return {
        "type": "object",
        "properties": {key: described[key] for key in FULL_FORM},
        "oneOf": [{"required": ["value"]}, {"required": ["missing"]}],
        "additionalProperties": False,
    }


def _values(attribute: Attribute) -> Iterable[Schema]:
    keys = [choice.key for choice in attribute.choices]
    match attribute.kind:
        case "choice" | "yes-no":
            some = _words(keys)
            yield {"enum": [*keys, "unknown"]}
            yield {"type": "string", "pattern": rf"^\s*{some}(\s+or\s+{some})*\s*$"}
            yield _keyed({"not": _one_or_list(keys)}, required=["not"])
        case "several":
            yield {"enum": [*keys, "unknown"]}
            yield _one_or_list(keys)
            yield _keyed({"has": _one_or_list(keys), "has-not": _one_or_list(keys)})
        case "number":
            yield {"type": ["string", "number"], "pattern": _NUMBER}
        case "date":
            yield _DAY
            yield {"enum": ["unknown"]}
        case "text":
            yield _TEXT


def _keyed(properties: dict[str, Schema], required: Iterable[str] = ()) -> Schema:
    return {
        "type": "object",
        "properties": properties,
        "required": list(required),
        "minProperties": 1,
        "additionalProperties": False,
    }


def _one_or_list(keys: Iterable[str]) -> Schema:
    one = {"type": "string", "pattern": rf"^\s*{_words(keys)}\s*$"}
    return {"anyOf": [one, {"type": "array", "items": one}]}


def _words(keys: Iterable[str]) -> str:
    """A pattern for one of the keys; spaces stand for hyphens."""
    hyphen = r"(-|\s+)"
    return f"({'|'.join(key.replace('-', hyphen) for key in keys)})"
