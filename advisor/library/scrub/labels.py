"""Coded labels: the same name gives the same label, and no label tells the name without the key."""

import hmac
from hashlib import sha256
from typing import Final

LABELLED: Final = ("crew", "plant", "contractor", "designer")
"""Keys of the private block whose names are kept as labels."""
SITE: Final = ("address", "site")
"""Keys of the private block that tell where it is: the same place, the same label."""
KEY_BYTES: Final = 32


def token(key: bytes, callout: str) -> str:
    """The name under which the library keeps a callout: 32 hexadecimal digits."""
    return _keyed(key, "callout", callout)[:32]


def label(key: bytes, kind: str, name: str) -> str:
    """`crew-3fa94c12`: of a name in whatever case and spacing."""
    return f"{kind}-{_keyed(key, kind, ' '.join(name.casefold().split()))[:8]}"


def _keyed(key: bytes, kind: str, text: str) -> str:
    return hmac.new(key, f"{kind}\0{text}".encode(), sha256).hexdigest()
