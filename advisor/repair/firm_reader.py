"""Reads the firm's own files: `packs.yaml`, `prices.yaml`, `van.yaml`, `crew.yaml` of a folder."""

from collections.abc import Callable, Mapping
from datetime import date
from pathlib import Path
from typing import TypeVar

from advisor.knowledge import TOOLS, Knowledge
from advisor.repair.firm import Firm, Stock
from advisor.terms import (
    Faults,
    Faulty,
    Node,
    Problem,
    Unreadable,
    day,
    fault,
    mapping,
    nearest,
    number,
    one_of,
    only_keys,
    problem_at,
    read,
    read_quantity,
    scalar,
    text,
)

FILES = ("packs.yaml", "prices.yaml", "van.yaml", "crew.yaml")
MOST = 1e9

T = TypeVar("T")


def read_firm(folder: Path, knowledge: Knowledge) -> tuple[Firm, tuple[Problem, ...]]:
    """What can be read, and every fault of the rest: a plan is still made with what is there.

    Raises Faulty where the folder is none.
    """
    if not folder.is_dir():
        told = "this is a file" if folder.exists() else "there is no such folder"
        raise Faulty(Problem(message=told, file=str(folder), expected=f"a folder with {FILES[0]}"))
    faults = Faults()
    for name in sorted(p.name for p in folder.iterdir() if p.suffix in (".yaml", ".yml")):
        if name not in FILES:
            told, near = "this file is none of the firm's", nearest(name, FILES)
            problem = Problem(
                message=told, file=str(folder / name), expected=one_of(FILES), nearest=near
            )
            faults.add(problem)
    packs = _file(folder, "packs.yaml", lambda node: _packs(node, knowledge, faults), faults)
    prices = _file(folder, "prices.yaml", lambda node: _prices(node, knowledge, faults), faults)
    van = _file(folder, "van.yaml", lambda node: _van(node, knowledge, faults), faults)
    crew = _file(folder, "crew.yaml", lambda node: _crew(node, faults), faults)
    priced, currency = prices or ({}, "")
    stock, tools = van or (None, {})
    firm = Firm(
        packs=packs or {},
        prices=priced,
        currency=currency,
        stock=stock,
        tools=tools,
        certificates=crew,
    )
    return firm, tuple(faults.problems)


def _file(folder: Path, name: str, how: Callable[[Node], T], faults: Faults) -> T | None:
    """What `how` makes of a file; None where it is not there or cannot be read."""
    path = folder / name
    if not path.exists():
        return None
    with faults.catch():
        return how(read(path, file=str(path)))
    return None


def _packs(node: Node, knowledge: Knowledge, faults: Faults) -> dict[str, float]:
    """`MATERIAL: {size: 5 kg}`."""
    found = {}
    for key, body in mapping(node).entries:
        with faults.catch():
            material = knowledge.materials[_material(key.text, key, knowledge)]
            keys = mapping(body, key.text)
            only_keys(keys, ("size",))
            size = keys.get("size")
            if size is None:
                raise fault(
                    key, "the size of the pack is missing", key=key.text, expected="size: 5 kg"
                )
            found[material.key] = _figure(size, material.unit)
    return found


def _prices(node: Node, knowledge: Knowledge, faults: Faults) -> tuple[dict[str, float], str]:
    """`currency: EUR` and `packs: {MATERIAL: 48}`. Without a currency no price counts."""
    keys = mapping(node)
    only_keys(keys, ("currency", "packs"))
    written = keys.get("currency")
    currency = "" if written is None else text(written, "currency")
    if not currency:
        faults.add(
            problem_at(keys, "the currency is missing", key="currency", expected="currency: EUR")
        )
        return {}, ""
    found = {}
    listed = keys.get("packs")
    for key, value in () if listed is None else mapping(listed, "packs").entries:
        with faults.catch():
            price = number(value, key.text)
            if price < 0:
                raise fault(value, "a price is 0 or more", key=key.text)
            found[_material(key.text, key, knowledge)] = price
    return found, currency


def _van(
    node: Node, knowledge: Knowledge, faults: Faults
) -> tuple[dict[str, Stock] | None, dict[str, float]]:
    """`stock: {MATERIAL: {packs: 3, expires: DAY}}`, `drill-length: 400 mm`, `pump-pressure`."""
    keys = mapping(node)
    with faults.catch():
        only_keys(keys, ("stock", *TOOLS))
    stock: dict[str, Stock] | None = None
    if (listed := keys.get("stock")) is not None:
        stock = {}
        for key, body in mapping(listed, "stock").entries:
            with faults.catch():
                stock[_material(key.text, key, knowledge)] = _stock(body, key.text)
    tools = {}
    for tool, unit in TOOLS.items():
        if (written := keys.get(tool)) is not None:
            with faults.catch():
                tools[tool] = _figure(written, unit)
    return stock, tools


def _stock(node: Node, key: str) -> Stock:
    keys = mapping(node, key)
    only_keys(keys, ("packs", "expires"), ("packs",))
    packs, expires = keys.get("packs"), keys.get("expires")
    assert packs is not None
    count = number(packs, "packs")
    if count < 0:
        raise fault(packs, "packs are 0 or more", key="packs")
    return Stock(packs=count, expires=None if expires is None else day(expires, "expires"))


def _crew(node: Node, faults: Faults) -> Mapping[str, date]:
    """`certificates: {NAME: LAST-DAY}`."""
    keys = mapping(node)
    only_keys(keys, ("certificates",), ("certificates",))
    found = {}
    for key, value in mapping(keys.entries[0][1], "certificates").entries:
        with faults.catch():
            found[key.text] = day(value, key.text)
    return found


def _material(written: str, node: Node, knowledge: Knowledge) -> str:
    if written not in knowledge.materials:
        told, near = f'"{written}" is no material', nearest(written, knowledge.materials)
        raise fault(node, told, key=written, expected="a key of materials", nearest=near)
    return written


def _figure(node: Node, unit: str) -> float:
    """A single number above 0, with its unit."""
    try:
        found = read_quantity(scalar(node, "a number").text, unit, lowest=0, highest=MOST)
    except Unreadable as error:
        raise fault(node, error.message, expected=error.expected, nearest=error.nearest) from None
    if found.lo <= 0:
        raise fault(node, "this is above 0", expected=f"a number in {unit}")
    return found.lo
