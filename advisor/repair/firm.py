"""What the firm has today: packs, prices, the van, the crew. And what can be done with it."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from math import ceil

from advisor.knowledge import TOOLS, Knowledge, Method
from advisor.repair.amounts import Ledger, label_of, load
from advisor.repair.result import Load, MethodBelief, NotToday, Order, Today


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """packs: how many stand in the van; expires: their last day, None where none is written."""

    packs: float
    expires: date | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Firm:
    """packs: material -> how much one holds. prices: material -> price of a pack, in `currency`.

    stock: None where the van is not listed. tools: what it brings, in the units of TOOLS.
    certificates: certificate -> its last day; None where the crew is not listed.
    """

    packs: Mapping[str, float] = field(default_factory=dict)
    prices: Mapping[str, float] = field(default_factory=dict)
    currency: str = ""
    stock: Mapping[str, Stock] | None = None
    tools: Mapping[str, float] = field(default_factory=dict)
    certificates: Mapping[str, date] | None = None


def orders(firm: Firm, loads: Iterable[Load]) -> tuple[Order, ...]:
    """Packs to load and what they cost, for the most that may be needed."""
    found = []
    for one in loads:
        size, price = firm.packs.get(one.material), firm.prices.get(one.material)
        packs = None if size is None or one.high is None else ceil(one.high / size - 1e-9)
        cost = None if packs is None or price is None else packs * price
        currency = firm.currency if cost is not None else None
        found.append(Order(material=one.material, packs=packs, cost=cost, currency=currency))
    return tuple(found)


def best_today(
    firm: Firm,
    ledger: Ledger,
    methods: Iterable[MethodBelief],
    day: date | None,
) -> Today:
    """The first of these methods that can be done with what is there, and why the others not.

    methods: those that fit, the most likely to hold first. day: of the work; None where no visit
    is written, and no date can have passed.
    """
    knowledge = ledger.place.knowledge
    missed: list[NotToday] = []
    for belief in methods:
        method = knowledge.methods[belief.method]
        reasons = list(_missing(firm, ledger, method, day))
        if not reasons:
            return Today(method=method.key, not_today=tuple(missed))
        missed.append(NotToday(method=method.key, text=" ".join(reasons)))
    return Today(method=None, not_today=tuple(missed))


def _missing(firm: Firm, ledger: Ledger, method: Method, day: date | None) -> Iterator[str]:
    """Why a method cannot be done with what is there, in words."""
    knowledge = ledger.place.knowledge
    for key, quantity in method.materials.items():
        material = knowledge.materials[key]
        yield from _out_of_stock(firm, ledger, key, quantity, day)
        if material.certificate and firm.certificates is not None:
            until = firm.certificates.get(material.certificate)
            if until is None:
                yield knowledge.say("no-certificate", certificate=material.certificate)
            elif day is not None and until < day:
                yield knowledge.say(
                    "certificate-expired", certificate=material.certificate, day=until.isoformat()
                )
    yield from _beyond_tools(firm, ledger, method)


def _out_of_stock(
    firm: Firm, ledger: Ledger, key: str, quantity: str, day: date | None
) -> Iterator[str]:
    if firm.stock is None:
        return
    knowledge = ledger.place.knowledge
    label, stock = knowledge.materials[key].label, firm.stock.get(key)
    if stock is None or stock.packs <= 0:
        yield knowledge.say("not-in-the-van", material=label)
    elif stock.expires is not None and day is not None and stock.expires < day:
        yield knowledge.say("stock-expired", material=label, day=stock.expires.isoformat())
    elif (size := firm.packs.get(key)) is not None:
        needed = load(ledger, key, quantity).low
        if needed is not None and stock.packs * size < needed:
            yield knowledge.say("too-few-packs", material=label, packs=f"{stock.packs:g}")


def _beyond_tools(firm: Firm, ledger: Ledger, method: Method) -> Iterator[str]:
    knowledge = ledger.place.knowledge
    for key in dict.fromkeys(key for step in method.steps for key in step.quantities):
        quantity = knowledge.quantities.get(key)
        for tool in quantity.at_most if quantity is not None else ():
            ends = ledger.reckon(key).ends
            if tool in firm.tools and ends is not None and ends.lo > firm.tools[tool]:
                has = f"{firm.tools[tool]:g} {TOOLS[tool]}"
                what = label_of(knowledge, key)
                tool_label = knowledge.say(f"tool-{tool}")
                yield knowledge.say("beyond-the-tool", what=what, tool=tool_label, has=has)


NEARLY = 0.2
"""What is not even this near to the best would only be done because it is in the van."""


def fitting(knowledge: Knowledge, methods: Iterable[MethodBelief]) -> list[MethodBelief]:
    """Methods that may close or live with the leak, best first: none ruled out, none far off."""
    free = [
        m
        for m in methods
        if m.ruled_out is None and {"until", "lasting"} & {*knowledge.methods[m.method].horizons}
    ]
    return [m for m in free if m.confidence >= NEARLY * free[0].confidence]
