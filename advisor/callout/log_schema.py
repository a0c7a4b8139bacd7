"""The JSON Schema of the log of a callout file, for editors."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, Final

from advisor.callout.log_reader import ANSWER, KINDS, PROPOSED
from advisor.callout.log_record import HELD, HOWS, NEVER, STATES, WATER_UP, WITHOUT
from advisor.callout.log_values import PACKER

Schema = dict[str, Any]

_WORD: Final[Schema] = {"type": "string", "minLength": 1}
_WORDS: Final[Schema] = {"anyOf": [_WORD, {"type": "array", "items": _WORD}]}
_TEXT: Final[Schema] = {"type": ["string", "number", "boolean"]}
_TEXTS: Final[Schema] = {"type": ["object", "null"], "additionalProperties": _TEXT}
_SHARES: Final[Schema] = {
    "type": ["object", "null"],
    "additionalProperties": {"type": ["number", "string"]},
}
_FLAG: Final[Schema] = {"enum": ["true", "false", "yes", "no", True, False]}


def _one_of(words: Iterable[str]) -> Schema:
    """The words, also with spaces for hyphens."""
    return {"enum": list(dict.fromkeys(s for w in words for s in (w, w.replace("-", " "))))}


_OF_KEY: Final[dict[str, Schema]] = {
    **dict.fromkeys(("secured", "agreed", "done", "confirmed", "supported"), _WORD),
    **dict.fromkeys(("told", "handed-over", "role", "accepted-by", "proof", "advised"), _WORD),
    **dict.fromkeys(("by", "contributors", "present"), _WORDS),
    **dict.fromkeys(("conditions", "deviations", "water-height", "ended"), _TEXT),
    **dict.fromkeys(("packer", "pressure", "volume", "minutes"), _TEXT),
    **dict.fromkeys(("quantities", "readings"), _TEXTS),
    **{key: {"type": "array", "items": _WORD} for key in ("looks", "stops")},
    **dict.fromkeys(("advisor", "knowledge"), _TEXT),
    **dict.fromkeys(("causes", "methods"), _SHARES),
    "looked": _one_of(STATES),
    "closed": _one_of((HELD, *WITHOUT)),
    "how": _one_of(HOWS),
    "water-up": {"enum": [*WATER_UP, True, False]},
    "within-agreed": _FLAG,
    "cause-confirmed": {"const": NEVER},
    "settled-on": {"enum": ["cause", "group"]},
    "packers": {
        "type": ["array", "null"],
        "items": {
            "type": "object",
            "properties": dict.fromkeys(PACKER, _TEXT),
            "required": ["packer"],
            "additionalProperties": False,
        },
    },
}


def log_schema(leak: Schema, day: Schema) -> Schema:
    """leak, day: the schemas of a wet place's name and of a day."""
    shared = {"leak": leak, "date": day, "words": _TEXT}
    kinds = [
        _entry({**shared, key: _OF_KEY[key]} | {k: _OF_KEY[k] for k in kind.others}, kind.musts)
        for key, kind in KINDS.items()
    ]
    for entry, key in zip(kinds, KINDS, strict=True):
        entry["required"].append(key)
    answer = {
        "type": "object",
        "properties": {key: _OF_KEY[key] for key in ANSWER},
        "required": ["advisor", "knowledge"],
        "additionalProperties": False,
    }
    proposed = _entry({**shared, PROPOSED: answer}, (PROPOSED,))
    return {
        "type": ["array", "null"],
        "items": {"oneOf": [*kinds, proposed]},
        "description": "What was done, confirmed and seen later. Written by `advisor log`.",
    }


def _entry(properties: Schema, musts: Iterable[str]) -> Schema:
    return {
        "type": "object",
        "properties": properties,
        "required": ["leak", "date", *musts],
        "additionalProperties": False,
    }
