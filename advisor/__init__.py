"""Diagnose a leak in watertight concrete on a warranty callout, and say why.

    from advisor import Callout, assess
    print(assess(Callout.read("callout.yaml")).to_json())

Names are loaded when first used, so that one floor does not cost the others.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from advisor.assessment import Assessment, assess
    from advisor.callout import Callout
    from advisor.knowledge import open_knowledge

__all__ = ["Assessment", "Callout", "assess", "open_knowledge"]

_HOMES = {
    "Assessment": "advisor.assessment",
    "Callout": "advisor.callout",
    "assess": "advisor.assessment",
    "open_knowledge": "advisor.knowledge",
}


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(_HOMES[name]), name)
