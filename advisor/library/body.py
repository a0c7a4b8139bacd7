"""A kept case as one text: its body in the database, and what the checksum of a line is of."""

import json
from collections.abc import Mapping
from hashlib import sha256
from typing import Any

from advisor.library.case import KeptCase


def body_of(case: KeptCase) -> str:
    """The case as canonical JSON, without what is as the form has it by itself, but `format`."""
    return canonical({**case.model_dump(mode="json", exclude_defaults=True), "format": case.format})


def canonical(told: Mapping[str, Any]) -> str:
    """The one way in which a case is written: the same case is the same text, whoever wrote it."""
    return json.dumps(told, sort_keys=True, ensure_ascii=False, separators=(",", ":"))


def checksum_of(body: str) -> str:
    """64 hexadecimal digits: SHA-256 of the body in UTF-8."""
    return sha256(encoded(body)).hexdigest()


def encoded(text: str) -> bytes:
    """Half a letter from an escape sequence is no UTF-8; it is refused later, not here."""
    return text.encode("utf-8", "surrogatepass")
