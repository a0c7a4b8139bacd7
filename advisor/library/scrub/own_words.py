"""What a record itself says of people and places, so that its notes can be rid of it."""

import re
from collections.abc import Iterator, Mapping
from typing import Final

from advisor.callout import Callout
from advisor.library.scrub.identities import private_words

_LONG: Final = re.compile(r"[^\W\d_]{4}")


def own_words(callout: Callout) -> tuple[str, ...]:
    """The words of the private block, who released a stop, and the names given to the callout and
    its wet places: somebody may have called them after a person. `L1` tells nothing."""
    said = [
        *private_words(callout.private),
        *private_words({"keys": list(_keys(callout.private))}),
        *private_words({"released": [release.name for release in callout.releases]}),
        *private_words({"callout": callout.key}),
        *(leak.key for leak in callout.leaks if _LONG.search(leak.key)),
    ]
    return tuple(dict.fromkeys(said))


def _keys(value: object) -> Iterator[str]:
    """Keys that are no plain words: `Jan Novak: tenant`."""
    match value:
        case Mapping():
            yield from (key for key in value if key != key.lower() or re.search(r"\d", key))
            for one in value.values():
                yield from _keys(one)
        case list() | tuple():
            for one in value:
                yield from _keys(one)
