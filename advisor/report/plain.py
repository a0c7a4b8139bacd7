"""What stands in a file, as plain data."""

from typing import Any

from advisor.terms import Listing, Mapping, Node


def plain(node: Node | None) -> Any:
    """Texts, lists and dictionaries as written; None where nothing stands."""
    if node is None:
        return None
    if isinstance(node, Mapping):
        return {key.text: plain(value) for key, value in node.entries}
    if isinstance(node, Listing):
        return [plain(item) for item in node.items]
    return node.text


def texts(node: Node | None) -> tuple[str, ...]:
    """One text or a list of texts; nothing is no text."""
    written = plain(node)
    if written is None:
        return ()
    return tuple(written) if isinstance(written, list) else (written,)
