"""Values as bytes and back, without running anything that stands in them.

A list of nodes in JSON, each made from those before it, then the bytes of all arrays. Only
this program's own dataclasses and the formulas of `water` are named in it: what names
anything else is refused. What is one object stays one.
"""

import json
from collections.abc import Callable, Iterator
from dataclasses import fields, is_dataclass
from importlib import import_module
from pathlib import Path
from typing import Any, Final

import numpy as np

from advisor.water import FORMULAS, Formula

MARK: Final = b"leak-advisor stored 1\n"

_ALIGNED = 16
"""Each array starts at a multiple of this, so that its numbers can be read where they lie."""


_Kind = tuple[type, list[str]]
"""A dataclass, and the names of its parts in the order in which they are stored."""


def stored(value: object) -> bytes:
    """The value as bytes. Raises TypeError for what cannot be stored."""
    writer = _Writer()
    root = writer.place_of(value)
    head = json.dumps({"kinds": writer.kinds, "nodes": writer.nodes, "root": root}).encode()
    written = bytearray(MARK + len(head).to_bytes(8, "little") + head)
    for array in writer.arrays:
        written += bytes(-len(written) % _ALIGNED) + array
    return bytes(written)


def restored(written: bytes) -> Any:
    """The value of such bytes. Raises ValueError, KeyError or TypeError where they are none."""
    if not written.startswith(MARK):
        raise ValueError("not stored by this program")
    start = len(MARK) + 8
    size = int.from_bytes(written[len(MARK) : start], "little")
    head = json.loads(written[start : start + size])
    arrays = _Arrays(written, start + size)
    kinds = [_dataclass(*kind) for kind in head["kinds"]]
    made: list[Any] = []
    for node in head["nodes"]:
        made.append(_make(node, kinds, made, arrays))
    return _value(head["root"], made)


class _Writer:
    """Flattens a value: children first, each object once."""

    def __init__(self) -> None:
        self.kinds: list[list[Any]] = []
        """Module, name and names of the parts of each dataclass."""
        self.nodes: list[list[Any]] = []
        self.arrays: list[bytes] = []
        self.known: dict[int, int] = {}
        self.held: list[object] = []
        """Keeps what was met alive, so that no identity is used twice."""

    def place_of(self, value: object) -> object:
        """A plain value as it is, anything else as [where its node stands]."""
        if value is None or type(value) in (bool, int, float, str):
            return value
        if isinstance(value, np.float64):  # a float to whoever reads it
            return float(value)
        if id(value) not in self.known:
            node = self.node_of(value)
            self.known[id(value)] = len(self.nodes)
            self.held.append(value)
            self.nodes.append(node)
        return [self.known[id(value)]]

    def node_of(self, value: object) -> list[Any]:
        at = self.place_of
        plain = type(value).__name__ in _ROWS  # a kind made of these would not come back
        if plain and isinstance(value, tuple | list | frozenset):
            return [type(value).__name__, [at(item) for item in value]]
        if isinstance(value, dict):
            return ["dict", [[at(key), at(item)] for key, item in value.items()]]
        if isinstance(value, np.ndarray):
            self.arrays.append(np.ascontiguousarray(value).tobytes())
            return ["array", value.dtype.str, list(value.shape)]
        if isinstance(value, Path):
            return ["path", str(value)]
        if isinstance(value, Formula):
            return ["formula", value.name]
        if is_dataclass(value) and not isinstance(value, type):
            names = dict.fromkeys([*(f.name for f in fields(value)), *_kept_beside(value)])
            kind = [type(value).__module__, type(value).__qualname__, list(names)]
            if kind not in self.kinds:
                self.kinds.append(kind)
            return [self.kinds.index(kind), *(at(getattr(value, name)) for name in names)]
        raise TypeError(f"{type(value).__name__} cannot be stored")


def _kept_beside(value: object) -> list[str]:
    """Parts that were worked out later and kept beside the fields."""
    return list(getattr(value, "__dict__", ()))


class _Arrays:
    """Hands the stored arrays out in order, as views of the bytes."""

    def __init__(self, written: bytes, start: int) -> None:
        self.written, self.at = written, start

    def take(self, dtype: str, shape: list[int]) -> np.ndarray[Any, Any]:
        kind = np.dtype(dtype)
        if kind.hasobject:
            raise ValueError("an array of objects is none of ours")
        self.at += -self.at % _ALIGNED
        count = int(np.prod(shape, dtype=np.int64))
        found = np.frombuffer(self.written, kind, count, self.at).reshape(shape)
        self.at += found.nbytes
        return found


def _value(written: Any, made: list[Any]) -> Any:
    return made[written[0]] if type(written) is list else written


def _make(node: list[Any], kinds: list[_Kind], made: list[Any], arrays: _Arrays) -> Any:
    kind = node[0]
    if type(kind) is int:
        return _object(*kinds[kind], [_value(part, made) for part in node[1:]])
    if kind in _ROWS:
        return _ROWS[kind](_value(item, made) for item in node[1])
    if kind == "dict":
        return {_value(key, made): _value(item, made) for key, item in node[1]}
    if kind == "array":
        return arrays.take(node[1], node[2])
    if kind == "path":
        return Path(node[1])
    if kind == "formula":
        return FORMULAS[node[1]]
    raise ValueError(f"{kind} is nothing that is stored")


_ROWS: Final[dict[str, Callable[[Iterator[Any]], Any]]] = {
    "tuple": tuple,
    "list": list,
    "frozenset": frozenset,
}


def _dataclass(module: str, name: str, parts: list[str]) -> _Kind:
    if module != "advisor" and not module.startswith("advisor."):
        raise ValueError(f"{module} is no module of this program")
    kind = getattr(import_module(module), name)
    if not (isinstance(kind, type) and is_dataclass(kind)):
        raise ValueError(f"{name} is no dataclass of this program")
    return kind, parts


def _object(kind: type, names: list[str], parts: list[Any]) -> Any:
    """As it was: not made anew, so nothing of the class is run."""
    value: Any = object.__new__(kind)
    for name, part in zip(names, parts, strict=True):
        object.__setattr__(value, name, part)
    return value
